//! Seating and power fade over real gRPC, with the ring pack's model: a dyno cell asks during the break-in, a builder asks for
//! power between freshenings.

mod command;
mod power;
mod refused;
mod seating;

use ringland_proto::v1::{
    AssessSeatingRequest, BreakInPull, Component, DutyHeader, RecordDutyRequest, SampleChannel,
    SeatingAssessment, record_duty_request::Payload,
};
use ringland_tests::{Clients, Server, Shop, at, enter, pull_samples, put_in};

const L_MIN: f64 = 1e-3 / 60.0;

/// A break-in day, invented: 85 l/min and as much again when built, as 85 + 85 exp(-n 29/20).
const DAY: [f64; 7] = [170.0, 105.0, 90.0, 86.0, 85.0, 85.0, 85.0];

struct Cell {
    server: Server,
    clients: Clients,
    shop: Shop,
    /// New rings in the shop's build, with no use yet.
    rings: String,
}

impl Cell {
    async fn open(plugins: &[&std::path::Path]) -> Self {
        let server = Server::start(plugins).await;
        let mut clients = server.clients().await;
        let shop = Shop::open(&mut clients, "a").await.expect("the shop opens");
        let rings = new_component(&mut clients, "new-rings", "ring_pack").await;
        // The shop's first log is over by then.
        let installed = put_in(&mut clients, &shop.build, &rings, at(9000)).await;
        installed.expect("installed");
        Self {
            server,
            clients,
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
        self.clients
            .running_in
            .assess_seating(request)
            .await
            .expect("an assessment")
            .into_inner()
    }
}

async fn new_component(clients: &mut Clients, id: &str, component_type: &str) -> String {
    let component = Component {
        component_type: component_type.into(),
        ..Default::default()
    };
    let entered = enter(clients, id, component).await;
    entered.expect(component_type)
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
