//! Predictions over gRPC against the same server's emptiest handler (its health check).

use crate::median;
use ringland_proto::v1::PredictRequest;
use ringland_tests::{Server, Shop, plugin};
use std::time::Instant;
use tonic::transport::Channel;
use tonic_health::pb::{HealthCheckRequest, health_client::HealthClient};

const CALLS: usize = 1000;
const IN_FLIGHT: usize = 16;

pub async fn run() -> Result<(), Box<dyn std::error::Error>> {
    let server = Server::start(&[&plugin("ringland-plugin-ring-pack")]).await;
    let mut clients = server.clients().await;
    let shop = Shop::open(&mut clients, "bench").await?;
    shop.predict(&mut clients).await?; // the map is prepared
    let channel = Channel::from_shared(server.url.clone())?.connect().await?;
    let request = PredictRequest {
        component: shop.component.clone(),
        profile: shop.profile.clone(),
        ..Default::default()
    };
    let (mut predictions, mut empties) = (Vec::new(), Vec::new());
    for _ in 0..5 {
        let client = clients.predictions.clone();
        predictions.push(
            rate(|| {
                let (mut client, request) = (client.clone(), request.clone());
                async move { client.predict(request).await.map(|_| ()) }
            })
            .await?,
        );
        let health = HealthClient::new(channel.clone());
        empties.push(
            rate(|| {
                let mut health = health.clone();
                async move {
                    health
                        .check(HealthCheckRequest::default())
                        .await
                        .map(|_| ())
                }
            })
            .await?,
        );
    }
    let (predictions, empties) = (median(predictions), median(empties));
    println!(
        "  {predictions:.0} predictions/s, {empties:.0} empty calls/s, {IN_FLIGHT} in flight, ratio {:.2}",
        empties / predictions
    );
    Ok(())
}

/// Calls a second, client and server on the same machine.
async fn rate<F, Fut>(call: F) -> Result<f64, tonic::Status>
where
    F: Fn() -> Fut,
    Fut: Future<Output = Result<(), tonic::Status>> + Send + 'static,
{
    let start = Instant::now();
    let mut flying = tokio::task::JoinSet::new();
    for _ in 0..CALLS {
        if flying.len() >= IN_FLIGHT {
            joined(flying.join_next().await)?;
        }
        flying.spawn(call());
    }
    while let Some(done) = flying.join_next().await {
        joined(Some(done))?;
    }
    Ok(CALLS as f64 / start.elapsed().as_secs_f64())
}

fn joined(
    done: Option<Result<Result<(), tonic::Status>, tokio::task::JoinError>>,
) -> Result<(), tonic::Status> {
    match done {
        Some(Ok(result)) => result,
        Some(Err(error)) => Err(tonic::Status::internal(error.to_string())),
        None => Ok(()),
    }
}
