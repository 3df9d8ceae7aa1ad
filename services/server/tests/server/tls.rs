//! TLS with a certificate made for the test.

use crate::setup::settings;
use rcgen::generate_simple_self_signed;
use ringland_proto::v1::{self as api, unit_service_client::UnitServiceClient};
use ringland_server::{ServeError, serve_with};
use ringland_store::MemoryStore;
use std::sync::Arc;
use tonic::transport::{Certificate, Channel, ClientTlsConfig};

#[tokio::test]
async fn calls_are_encrypted_with_the_certificate_of_the_settings() {
    let folder = tempfile::tempdir().unwrap();
    let made = generate_simple_self_signed(["localhost".to_owned()]).unwrap();
    let mut settings = settings(&folder);
    settings.tls.certificate_file = folder.path().join("certificate.pem");
    settings.tls.key_file = folder.path().join("key.pem");
    std::fs::write(&settings.tls.certificate_file, made.cert.pem()).unwrap();
    std::fs::write(&settings.tls.key_file, made.signing_key.serialize_pem()).unwrap();
    let store = Arc::new(MemoryStore::default());
    let models = Arc::new(crate::fake::FakeModels::default());
    let running = serve_with(settings, store, models, std::future::pending())
        .await
        .unwrap();

    let port = running.address().port();
    let trust = ClientTlsConfig::new().ca_certificate(Certificate::from_pem(made.cert.pem()));
    let endpoint = Channel::from_shared(format!("https://localhost:{port}")).unwrap();
    let endpoint = endpoint.tls_config(trust.domain_name("localhost")).unwrap();
    let channel = endpoint.connect().await.unwrap();
    let list = api::ListUnitsRequest::default();
    UnitServiceClient::new(channel)
        .list_units(list)
        .await
        .unwrap();
    let plain = Channel::from_shared(format!("http://127.0.0.1:{port}"))
        .unwrap()
        .connect_lazy();
    UnitServiceClient::new(plain)
        .list_units(api::ListUnitsRequest::default())
        .await
        .unwrap_err();
}

#[tokio::test]
async fn a_certificate_that_is_none_is_refused_before_the_port_is_bound() {
    let folder = tempfile::tempdir().unwrap();
    let mut settings = settings(&folder);
    settings.tls.certificate_file = folder.path().join("certificate.pem");
    settings.tls.key_file = folder.path().join("key.pem");
    std::fs::write(&settings.tls.certificate_file, "no certificate").unwrap();
    std::fs::write(&settings.tls.key_file, "no key").unwrap();
    let store = Arc::new(MemoryStore::default());
    let models = Arc::new(crate::fake::FakeModels::default());
    let refused = serve_with(settings, store, models, std::future::pending()).await;
    assert!(
        matches!(refused, Err(ServeError::Transport(_))),
        "{refused:?}"
    );
}
