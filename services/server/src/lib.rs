//! The gRPC front of the ledger.
