//! Journal bearings: the film of a journal in a shell of finite length, steady and over an orbit.
