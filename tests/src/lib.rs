//! End-to-end tests over real gRPC, and the bench.
