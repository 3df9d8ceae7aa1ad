//! What the shop cannot tell yet, and what is refused.

use super::{evidence, published::analyze};
use ringland_proto::v1::{AnalyzeLivesRequest, GivenLives, ObservedLife, analyze_lives_request};
use ringland_tests::Server;
use tonic::Code;
use tonic_types::StatusExt;

#[tokio::test(flavor = "multi_thread")]
async fn too_little_is_called_too_little_and_bad_lives_are_refused() {
    let server = Server::start(&[]).await;
    let life = |age: f64, ended: bool| ObservedLife {
        age,
        ended,
        ..Default::default()
    };
    let found = analyze(&server, vec![life(10.0, false), life(20.0, false)]).await;
    assert!(!found.enough && found.fits.is_empty());
    assert!(
        found.verdict.starts_with("Too little to tell"),
        "{}",
        found.verdict
    );
    // No failure in 30 h: the mean is at least 30 / ln 20 = 10.0 with 95 %.
    assert!((found.mean_life_at_least - 30.0 / 20.0_f64.ln()).abs() < 1e-6);

    let given = GivenLives {
        lives: vec![life(-1.0, true), life(f64::NAN, true), life(5.0, true)],
        age_unit: "h".into(),
    };
    let request = AnalyzeLivesRequest {
        source: Some(analyze_lives_request::Source::Given(given)),
    };
    let refused = evidence(&server).await.analyze_lives(request).await;
    let refused = refused.expect_err("refused");
    assert_eq!(refused.code(), Code::InvalidArgument);
    let details = refused.get_details_bad_request().expect("details");
    let fields: Vec<&str> = details
        .field_violations
        .iter()
        .map(|v| v.field.as_str())
        .collect();
    assert_eq!(fields, ["lives[0].age", "lives[1].age"]);
    let empty = evidence(&server)
        .await
        .analyze_lives(AnalyzeLivesRequest { source: None })
        .await;
    assert_eq!(empty.expect_err("refused").code(), Code::InvalidArgument);
}
