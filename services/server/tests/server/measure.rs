//! Not a check: figures for the report.
use crate::setup::{header, log, reduced, serve};
use ringland_proto::v1::{self as api, record_duty_request::Payload};
use std::time::{Duration, Instant};

async fn latencies(server: &crate::setup::Served, n: usize) -> (f64, f64) {
    let mut client = server.units();
    let mut all = Vec::new();
    for _ in 0..n {
        let t = Instant::now();
        client
            .get_unit(api::GetUnitRequest {
                name: "units/engine-a".into(),
            })
            .await
            .unwrap();
        all.push(t.elapsed());
        tokio::time::sleep(Duration::from_micros(500)).await;
    }
    all.sort();
    let ms = |d: Duration| d.as_secs_f64() * 1e3;
    (ms(all[n / 2]), ms(all[n * 99 / 100]))
}

#[tokio::test(flavor = "multi_thread", worker_threads = 2)]
#[ignore = "figures"]
async fn figures() {
    let server = serve().await;
    server.with_plate().await;
    println!(
        "get_unit idle p50/p99 ms {:?}",
        latencies(&server, 2000).await
    );
    let text: String = (0..400_000)
        .map(|i| format!("{}.{:02},{}\n", i / 100, i % 100, 5000 + i % 1000))
        .collect();
    let text = format!("time,rpm\n{text}");
    let bytes = text.len();
    let mut tasks = Vec::new();
    for k in 0..4 {
        let mut duty = server.duty();
        let text = text.clone();
        tasks.push(tokio::spawn(async move {
            let column = api::ChannelColumn {
                channel: "engine_speed_rad_s".into(),
                column: "rpm".into(),
                unit: "rpm".into(),
                ..Default::default()
            };
            let head = api::DutyHeader {
                channel_map: Some(api::ChannelMap {
                    time_column: "time".into(),
                    time_unit: "s".into(),
                    columns: vec![column],
                    ..Default::default()
                }),
                ..header(&format!("m{k}"), 10 + 3 * k)
            };
            let pieces = std::iter::once(Payload::Header(head))
                .chain(
                    text.as_bytes()
                        .chunks(65536)
                        .map(|c| Payload::Csv(c.to_vec())),
                )
                .collect();
            let t = Instant::now();
            duty.record_duty(log(pieces)).await.unwrap();
            t.elapsed()
        }));
    }
    let t = Instant::now();
    println!(
        "get_unit beside 4 uploads p50/p99 ms {:?}",
        latencies(&server, 1000).await
    );
    for task in tasks {
        println!(
            "upload of {} MB: {:?}",
            bytes as f64 / 1e6,
            task.await.unwrap()
        );
    }
    println!("total {:?}", t.elapsed());
    let t = Instant::now();
    for i in 0..200 {
        let payloads = vec![
            Payload::Header(header(&format!("r{i}"), 100 + 2 * i)),
            Payload::Reduced(reduced(3600.0)),
        ];
        server.duty().record_duty(log(payloads)).await.unwrap();
    }
    println!(
        "reduced duty records: {:.0}/s one by one (memory store)",
        200.0 / t.elapsed().as_secs_f64()
    );
}
