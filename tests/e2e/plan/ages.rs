//! Ages at which replacing costs least.

use ringland_proto::v1::{
    FindReplacementAgeRequest, WeibullLaw, find_replacement_age_request::Source,
};
use ringland_tests::Server;
use tonic::Code;

/// The roots are those of a general root finder; see `services/ledger/tests/rules/plans/ages.rs` for the whole table.
#[tokio::test(flavor = "multi_thread")]
async fn an_age_of_replacement_is_found_or_said_not_to_be() {
    let server = Server::start(&[]).await;
    let mut clients = server.clients().await;
    let request = |shape: f64| FindReplacementAgeRequest {
        planned_cost: 1.0,
        failure_cost: 5.0,
        source: Some(Source::Weibull(WeibullLaw {
            shape,
            scale: 1000.0,
            age_unit: "h".into(),
        })),
    };
    let found = clients.plans.find_replacement_age(request(2.5)).await;
    let found = found.expect("an age").into_inner();
    assert!((found.age.expect("an age") - 493.046_958).abs() < 1e-6);
    assert!((found.cost_rate - 0.003_462_042_739).abs() < 1e-11);
    let none = clients.plans.find_replacement_age(request(1.0)).await;
    assert_eq!(none.expect("an answer").into_inner().age, None);
    let wrong = clients
        .plans
        .find_replacement_age(FindReplacementAgeRequest::default())
        .await;
    assert_eq!(wrong.expect_err("refused").code(), Code::InvalidArgument);
}
