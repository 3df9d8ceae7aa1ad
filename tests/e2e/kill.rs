//! `kill -9` at any moment loses no acknowledged duty, and sending again repeats none.

use ringland_proto::v1::ListDutyRecordsRequest;
use ringland_tests::{Clients, Server, Shop, at, lap_csv, plugin, record_csv};
use std::time::Duration;

const KILLS: u64 = 8;

/// A small fixed generator: the same moments in every run.
fn next(state: &mut u64) -> u64 {
    *state = state
        .wrapping_mul(6_364_136_223_846_793_005)
        .wrapping_add(1_442_695_040_888_963_407);
    *state >> 33
}

#[tokio::test(flavor = "multi_thread")]
async fn killed_at_any_moment_the_server_keeps_what_it_acknowledged() {
    let mut server = Server::start(&[&plugin("ringland-plugin-ring-pack")]).await;
    let mut clients = server.clients().await;
    let shop = Shop::open(&mut clients, "a").await.expect("the shop opens");
    let csv = lap_csv(120);
    let (mut acknowledged, mut sent, mut moment) = (Vec::new(), 0_i64, 7_u64);
    for _ in 0..KILLS {
        let patience = Duration::from_millis(20 + next(&mut moment) % 400);
        let feed = async {
            loop {
                let id = format!("log-{sent}");
                let start = at(10_000 + sent * 600);
                match record_csv(&mut clients, &shop.unit, &id, start, &csv).await {
                    Ok(answer) => {
                        acknowledged.push(answer.duty_record.expect("the record").name);
                        sent += 1;
                    }
                    Err(status) => panic!("refused while the server runs: {status}"),
                }
            }
        };
        let _ = tokio::time::timeout(patience, feed).await; // the feed only ends by the time-out
        server.kill().await;
        server.restart().await;
        clients = server.clients().await;
        // The log under way when the server died was never acknowledged: it is sent again.
        let (id, start) = (format!("log-{sent}"), at(10_000 + sent * 600));
        let answer = record_csv(&mut clients, &shop.unit, &id, start, &csv)
            .await
            .expect("again");
        acknowledged.push(answer.duty_record.expect("the record").name);
        sent += 1;
    }
    let kept = names(&mut clients, &shop.unit).await;
    assert_eq!(
        kept[1..],
        acknowledged,
        "each acknowledged log once, in order, and no other"
    );
    assert_eq!(acknowledged.len(), usize::try_from(sent).expect("a count"));
}

/// Every record of a unit, page by page: a fast machine keeps more than one page.
async fn names(clients: &mut Clients, unit: &str) -> Vec<String> {
    let (mut names, mut page_token) = (Vec::new(), String::new());
    loop {
        let list = ListDutyRecordsRequest {
            parent: unit.into(),
            page_size: 1000,
            page_token,
        };
        let page = clients.duty.list_duty_records(list).await;
        let page = page.expect("a page").into_inner();
        names.extend(page.duty_records.into_iter().map(|record| record.name));
        page_token = page.next_page_token;
        if page_token.is_empty() {
            return names;
        }
    }
}
