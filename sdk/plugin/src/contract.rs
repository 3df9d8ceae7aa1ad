//! Types, the trait and the export macro, generated from `sdk/wit` at compile time. Use what the
//! crate root re-exports.
#![allow(
    unsafe_code,
    missing_docs,
    unused_qualifications,
    clippy::all,
    clippy::pedantic,
    reason = "generated: lifts and lowers values across the component ABI by raw pointers"
)]

wit_bindgen::generate!({
    path: "../wit",
    world: "plugin",
    additional_derives: [PartialEq],
    pub_export_macro: true,
    export_macro_name: "export_generated",
});

pub use self::exports::ringland::plugin::model::Guest as Model;
pub use self::ringland::plugin::card::*;
pub use self::ringland::plugin::life::*;
