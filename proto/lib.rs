//! The gRPC contract, compiled: messages, clients and service traits of `ringland.v1`.
//!
//! The `.proto` files beside this one are the documentation.

/// Version 1 of the contract.
#[allow(missing_docs, clippy::pedantic, clippy::large_enum_variant)] // generated; documented in the proto files
pub mod v1 {
    tonic::include_proto!("ringland.v1");
}

/// The file descriptor set, for server reflection.
pub const FILE_DESCRIPTOR_SET: &[u8] = include_bytes!(concat!(env!("OUT_DIR"), "/ringland.bin"));
