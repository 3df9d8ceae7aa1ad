//! The shop's evidence over real gRPC: published life data to their printed digits, ends of parts in the ledger, and what it says
//! when there is too little to tell.

mod command;
mod ends;
mod published;
mod too_little;

use ringland_proto::v1::evidence_service_client::EvidenceServiceClient;
use ringland_tests::Server;
use tonic::transport::Channel;

const REMISSIONS: &str = include_str!("../../../sdk/mechanics/tests/data/gehan.csv");

async fn evidence(server: &Server) -> EvidenceServiceClient<Channel> {
    server.clients().await.evidence
}

fn rows(text: &str) -> Vec<Vec<&str>> {
    let lines = text.lines().filter(|line| !line.starts_with('#')).skip(1);
    lines.map(|line| line.split(',').collect()).collect()
}
