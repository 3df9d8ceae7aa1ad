//! A real server on a free port, called as any client would call it. The models are fakes whose
//! figures can be worked out by hand; data are invented.

mod calls;
mod every_rpc;
mod fake;
mod process;
mod refusals;
mod setup;
mod tls;
mod uploads;
mod watching;
