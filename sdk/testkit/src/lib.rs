//! Conformance checks for any plugin, in any language.
