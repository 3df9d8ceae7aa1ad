//! Seating and power fade over real gRPC, with the ring pack's model: a dyno cell asks during the break-in, a builder asks for
//! power between freshenings.

use ringland_proto::v1::{
    AssessPowerFadeRequest, AssessSeatingRequest, BreakInPull, Component, CreateComponentRequest,
    DutyHeader, InstallComponentRequest, LeakDownState, PowerPull, Quantiles, RecordDutyRequest,
    SampleChannel, SeatingAssessment, SeatingDecision, record_duty_request::Payload,
    running_in_service_client::RunningInServiceClient,
};
use ringland_tests::{Clients, Server, Shop, at, outside_plugin, plugin, program, pull_samples};
use tonic::{Code, transport::Channel};
use tonic_types::StatusExt;

const L_MIN: f64 = 1e-3 / 60.0;

/// A break-in day, invented: 85 l/min and as much again when built, as 85 + 85 exp(-n 29/20).
const DAY: [f64; 7] = [170.0, 105.0, 90.0, 86.0, 85.0, 85.0, 85.0];

struct Cell {
    server: Server,
    clients: Clients,
    running_in: RunningInServiceClient<Channel>,
    shop: Shop,
    /// New rings in the shop's build, with no use yet.
    rings: String,
}

impl Cell {
    async fn open(plugins: &[&std::path::Path]) -> Self {
        let server = Server::start(plugins).await;
        let mut clients = server.clients().await;
        let running_in = RunningInServiceClient::connect(server.url.clone())
            .await
            .expect("the server listens");
        let shop = Shop::open(&mut clients, "a").await.expect("the shop opens");
        let rings = new_component(&mut clients, "new-rings", "ring_pack").await;
        let request = InstallComponentRequest {
            component: rings.clone(),
            build: shop.build.clone(),
            // The shop's first log is over by then.
            install_time: Some(at(9000)),
            ..Default::default()
        };
        clients
            .components
            .install_component(request)
            .await
            .expect("installed");
        Self {
            server,
            clients,
            running_in,
            shop,
            rings,
        }
    }

    /// Streams a 12 s full-load pull; returns the record's name.
    async fn pull(&mut self, number: usize) -> String {
        let header = DutyHeader {
            unit: self.shop.unit.clone(),
            request_id: format!("pull-{number}"),
            start_time: Some(at(10_000 + 300 * number as i64)),
            session: "dyno pull".into(),
            sample_channels: [
                ("engine_speed_rad_s", "rad/s"),
                ("engine_torque_n_m", "N.m"),
                ("oil_temp_k", "K"),
                ("coolant_temp_k", "K"),
            ]
            .map(|(channel, unit)| SampleChannel {
                channel: channel.into(),
                unit: unit.into(),
                ..Default::default()
            })
            .to_vec(),
            ..Default::default()
        };
        let messages = [Payload::Header(header), Payload::Samples(pull_samples())];
        let messages = messages.map(|payload| RecordDutyRequest {
            payload: Some(payload),
        });
        let recorded = self
            .clients
            .duty
            .record_duty(tokio_stream::iter(messages))
            .await
            .expect("a pull");
        recorded.into_inner().duty_record.expect("a record").name
    }

    async fn seating(&mut self, count: usize) -> SeatingAssessment {
        let request = AssessSeatingRequest {
            component: self.rings.clone(),
            profile: self.shop.profile.clone(),
            pulls: pulls(&DAY[..count]),
            ..Default::default()
        };
        self.running_in
            .assess_seating(request)
            .await
            .expect("an assessment")
            .into_inner()
    }
}

async fn new_component(clients: &mut Clients, id: &str, component_type: &str) -> String {
    let request = CreateComponentRequest {
        component_id: id.into(),
        component: Some(Component {
            component_type: component_type.into(),
            ..Default::default()
        }),
        ..Default::default()
    };
    clients
        .components
        .create_component(request)
        .await
        .expect(component_type)
        .into_inner()
        .name
}

fn pulls(l_min: &[f64]) -> Vec<BreakInPull> {
    let pull = |flow: &f64| BreakInPull {
        blow_by_m3_s: Some(flow * L_MIN),
        blow_by_pressure_pa: Some(1e5),
        blow_by_temp_k: Some(300.0),
        ..Default::default()
    };
    l_min.iter().map(pull).collect()
}

fn in_order(q: Quantiles) -> bool {
    q.p05.is_finite() && q.p05 <= q.p50 && q.p50 <= q.p95 && q.p95.is_finite()
}

/// Asked after every pull, the cell is told to pull again until the rings are seated; the model's prediction stands beside
/// what was read, and the day's cost is counted.
#[tokio::test(flavor = "multi_thread")]
async fn the_cell_asks_after_each_pull_and_is_told_when_to_stop() {
    let mut cell = Cell::open(&[&plugin("ringland-plugin-ring-pack")]).await;
    let mut stopped = None;
    for count in 1..=5 {
        let found = cell.seating(count).await;
        println!("{count} readings: {:?}, {}", found.decision(), found.reason);
        println!(
            "  predicted {:?}",
            found
                .pulls
                .iter()
                .map(|p| p.predicted_seated_share.map(|q| q.p50))
                .collect::<Vec<_>>()
        );
        println!(
            "  end {:?}, predicted {:?}, cost {:?}",
            found.end_blow_by_m3_s, found.predicted_end_blow_by_m3_s, found.cost
        );
        println!("  {:?}", found.assumptions.first());
        assert_ne!(
            found.decision(),
            SeatingDecision::NotSeating,
            "{}",
            found.reason
        );
        assert!(
            in_order(found.seated_share.expect("a share"))
                && in_order(found.pulls_to_seated.expect("pulls"))
        );
        assert_eq!(found.pulls.len(), count);
        if count > 1 {
            // The first reading came before any pull, then one record for each.
            assert!(found.pulls[0].duty_record.is_empty());
            assert!(
                found.pulls[count - 1].duty_record.contains("dutyRecords"),
                "{found:?}"
            );
            let predicted = found
                .pulls
                .iter()
                .map(|pull| pull.predicted_seated_share.expect("by the model").p50);
            let predicted: Vec<f64> = predicted.collect();
            assert!(
                predicted.windows(2).all(|pair| pair[0] < pair[1]),
                "{predicted:?}"
            );
            assert!(
                found
                    .pulls
                    .iter()
                    .all(|pull| pull.predicted_blow_by_m3_s.is_some_and(in_order))
            );
            let cost = found.cost.expect("records and a profile are known");
            assert_eq!(cost.duty_records as usize, count - 1);
            assert!(
                cost.life_events > 0.0 && cost.events_by_time > 0.0,
                "{cost:?}"
            );
        } else {
            assert!(found.cost.is_none());
        }
        assert!(!found.cautions.is_empty() && !found.assumptions.is_empty());
        if found.decision() == SeatingDecision::Stop {
            stopped = Some(count - 1);
            break;
        }
        cell.pull(count).await;
    }
    let stopped = stopped.expect("it stops");
    assert!((2..=4).contains(&stopped), "after pull {stopped}");
}

/// The record of each reading may be named; one of another unit's or time is refused.
#[tokio::test(flavor = "multi_thread")]
async fn records_are_named_or_refused_and_leak_down_goes_along() {
    let mut cell = Cell::open(&[&plugin("ringland-plugin-ring-pack")]).await;
    let first = cell.pull(1).await;
    let second = cell.pull(2).await;
    let mut request = AssessSeatingRequest {
        component: cell.rings.clone(),
        pulls: pulls(&DAY[1..3]),
        ..Default::default()
    };
    for (pull, (record, leak_down)) in request
        .pulls
        .iter_mut()
        .zip([(&first, 0.05), (&second, 0.04)])
    {
        pull.duty_record.clone_from(record);
        pull.leak_down_fraction = Some(leak_down);
        pull.leak_down_state = LeakDownState::Hot.into();
    }
    let found = cell
        .running_in
        .assess_seating(request.clone())
        .await
        .expect("an assessment")
        .into_inner();
    assert_eq!(found.pulls[0].duty_record, first);
    assert!(found.end_leak_down_fraction.is_some_and(in_order));
    assert!(
        found
            .pulls
            .iter()
            .all(|pull| pull.predicted_leak_down_fraction.is_some_and(in_order))
    );
    request.pulls[1].duty_record = format!("{}/dutyRecords/20200101t000000z", cell.shop.unit);
    let status = cell
        .running_in
        .assess_seating(request.clone())
        .await
        .expect_err("no such record");
    assert_eq!(status.code(), Code::FailedPrecondition, "{status}");
    request.pulls[1].duty_record = "units/engine-a".into();
    let status = cell
        .running_in
        .assess_seating(request)
        .await
        .expect_err("no record's name");
    assert_eq!(status.code(), Code::InvalidArgument);
    let details = status.get_error_details();
    let fields = &details.bad_request().expect("fields").field_violations;
    assert_eq!(fields[0].field, "pulls[1].duty_record");
}

/// A part from outside whose model says nothing of seating: the refusal names what it would take.
#[tokio::test(flavor = "multi_thread")]
async fn a_model_without_the_readings_is_refused_by_their_names() {
    let outside = outside_plugin();
    let mut cell = Cell::open(&[&plugin("ringland-plugin-ring-pack"), &outside]).await;
    let plates = new_component(&mut cell.clients, "plates", "differential_clutch").await;
    let request = AssessSeatingRequest {
        component: plates.clone(),
        pulls: pulls(&DAY),
        ..Default::default()
    };
    let status = cell
        .running_in
        .assess_seating(request)
        .await
        .expect_err("no such readings");
    assert_eq!(status.code(), Code::FailedPrecondition);
    for part in ["seating_fraction", "blow_by_m3_s", "differential_clutch"] {
        assert!(status.message().contains(part), "{status}");
    }
    let details = status.get_error_details();
    assert_eq!(
        details.error_info().expect("a reason").reason,
        "READING_MISSING"
    );
    // In a build, it is left out of the power and said to be.
    let request = InstallComponentRequest {
        component: plates.clone(),
        build: cell.shop.build.clone(),
        install_time: Some(at(0)),
        ..Default::default()
    };
    cell.clients
        .components
        .install_component(request)
        .await
        .expect("installed");
    let request = AssessPowerFadeRequest {
        unit: cell.shop.unit.clone(),
        profile: cell.shop.profile.clone(),
        ..Default::default()
    };
    let found = cell
        .running_in
        .assess_power_fade(request)
        .await
        .expect("a fade")
        .into_inner();
    assert!(
        found.left_out.iter().any(|line| line.contains(&plates)),
        "{:?}",
        found.left_out
    );
}

/// Power as measured and by the rings; what they do not explain is said and changes no prediction.
#[tokio::test(flavor = "multi_thread")]
async fn power_fades_as_measured_and_as_the_rings_explain() {
    let mut cell = Cell::open(&[&plugin("ringland-plugin-ring-pack")]).await;
    let before = cell
        .shop
        .predict(&mut cell.clients)
        .await
        .expect("a prediction");
    let pull = |events: f64, power_w: f64| PowerPull {
        events: Some(events),
        power_w,
        ..Default::default()
    };
    let request = AssessPowerFadeRequest {
        unit: cell.shop.unit.clone(),
        profile: cell.shop.profile.clone(),
        pulls: vec![
            pull(0.0, 332_600.0),
            pull(0.1, 332_000.0),
            pull(0.2, 290_000.0),
        ],
        ..Default::default()
    };
    let found = cell
        .running_in
        .assess_power_fade(request)
        .await
        .expect("a fade")
        .into_inner();
    println!("{}", found.text);
    let predicted = found.predicted.expect("the rings have the reading");
    assert!(in_order(predicted.loss_fraction_now.expect("now")));
    assert_eq!(predicted.components.len(), 2, "the old rings and the new");
    assert!(!predicted.components[0].drivers.is_empty());
    let measured = found.measured.expect("two ages");
    assert!(
        in_order(measured.loss_fraction_now.expect("now"))
            && measured.loss_fraction_now.expect("now").p50 > 0.05
    );
    let comparison = found.comparison.expect("both");
    assert!(comparison.unexplained, "{comparison:?}");
    assert!(found.text.contains("valve sealing"), "{}", found.text);
    let after = cell
        .shop
        .predict(&mut cell.clients)
        .await
        .expect("a prediction");
    assert_eq!(before.life, after.life, "nothing was learnt from it");
    let nowhere = AssessPowerFadeRequest {
        unit: "units/none".into(),
        ..Default::default()
    };
    let status = cell
        .running_in
        .assess_power_fade(nowhere)
        .await
        .expect_err("no such unit");
    assert_eq!(status.code(), Code::NotFound);
}

/// The same on the command line, in shop units.
#[tokio::test(flavor = "multi_thread")]
async fn the_command_line_says_the_same() {
    let mut cell = Cell::open(&[&plugin("ringland-plugin-ring-pack")]).await;
    for number in 1..=3 {
        cell.pull(number).await;
    }
    let url = cell.server.url.clone();
    let run = async |arguments: &[&str]| {
        let mut command = tokio::process::Command::new(program("ringland"));
        let said = command
            .args(arguments)
            .env("RINGLAND_SERVER", &url)
            .env("COLUMNS", "130")
            .output()
            .await;
        let said = said.expect("ringland runs");
        let text = |bytes: &[u8]| String::from_utf8_lossy(bytes).into_owned();
        (said.status.code(), text(&said.stdout), text(&said.stderr))
    };
    let (code, out, err) = run(&[
        "seating",
        "--component",
        "new-rings",
        "--pulls",
        "170,105,90,86",
        "--unit",
        "l/min",
    ])
    .await;
    println!("{out}");
    assert_eq!(code, Some(0), "{err}");
    for part in [
        "STOP:",
        "105",
        "predicted",
        "L/min",
        "Taken for granted",
        "Cautions",
    ] {
        assert!(out.contains(part), "{part} is missing from\n{out}");
    }
    let (code, out, _) = run(&[
        "seating",
        "--pulls",
        "6.0,3.7,3.2",
        "--unit",
        "cfm",
        "--json",
    ])
    .await;
    assert_eq!(code, Some(0));
    assert!(out.contains("SEATING_DECISION_ONE_MORE_PULL"), "{out}");
    let (code, _, err) = run(&["seating", "--pulls", "170,105", "--leak-down", "8"]).await;
    assert_eq!(
        (
            code,
            err.contains("--leak-down has 1 entries for 2 readings")
        ),
        (Some(2), true),
        "{err}"
    );
    let profile = cell.shop.profile.clone();
    let unit = cell.shop.unit.clone();
    let pulls = [
        "power",
        &unit,
        "--profile",
        &profile,
        "--pull",
        "446hp@0",
        "444hp@0.2",
        "--baseline",
        "446hp",
    ];
    let (code, out, err) = run(&pulls).await;
    println!("{out}");
    assert_eq!(code, Some(0), "{err}");
    for part in [
        "measured",
        "predicted",
        "446.0",
        "hp",
        "Predicted by part",
        "end-gap growth",
    ] {
        assert!(out.contains(part), "{part} is missing from\n{out}");
    }
    let (code, _, err) = run(&["power", &unit, "--pull", "446hp"]).await;
    assert_eq!(code, Some(2), "{err}");
}
