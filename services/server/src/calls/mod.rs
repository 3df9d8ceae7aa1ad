//! What holds for every call: a request id, a deadline, a limit on calls under way, one log line.

mod deadline;
mod record;

use crate::{errors, settings::Settings};
use deadline::Deadlines;
use http::{HeaderMap, HeaderValue, Request, Response};
use record::{CallBody, CallRecord};
use std::{
    future::Future,
    pin::Pin,
    sync::{
        Arc,
        atomic::{AtomicU64, Ordering},
    },
    task::{Context, Poll},
    time::{SystemTime, UNIX_EPOCH},
};
use tokio::{
    sync::{OwnedSemaphorePermit, Semaphore},
    time::timeout,
};
use tokio_util::sync::CancellationToken;
use tonic::{Status, body::Body};
use tower::{Layer, Service};
use tracing::Instrument;

const REQUEST_ID: &str = "x-request-id";

/// Put around all services.
#[derive(Clone)]
pub struct CallLayer {
    under_way: Arc<Semaphore>,
    limit: u32,
    deadlines: Deadlines,
    ids: Arc<RequestIds>,
    draining: CancellationToken,
}

impl CallLayer {
    /// With the limits of the settings; nothing new is taken once `draining`.
    pub fn new(settings: &Settings, draining: CancellationToken) -> Self {
        let limit = settings.limits.calls;
        Self {
            under_way: Arc::new(Semaphore::new(limit)),
            limit: u32::try_from(limit).unwrap_or(u32::MAX),
            deadlines: Deadlines {
                call: settings.call_limit(),
                stream: settings.stream_limit(),
            },
            ids: Arc::new(RequestIds::new()),
            draining,
        }
    }

    fn admit(&self) -> Result<OwnedSemaphorePermit, Status> {
        if self.draining.is_cancelled() {
            return Err(errors::draining());
        }
        let place = Arc::clone(&self.under_way).try_acquire_owned();
        place.map_err(|_| errors::overloaded("calls"))
    }

    /// Returns when no call is under way.
    pub async fn idle(&self) {
        // The semaphore is never closed, and all of its permits are free exactly when no call has one.
        let _ = self.under_way.acquire_many(self.limit).await;
    }
}

impl<S> Layer<S> for CallLayer {
    type Service = Calls<S>;

    fn layer(&self, inner: S) -> Calls<S> {
        Calls {
            inner,
            layer: self.clone(),
        }
    }
}

/// The services with what holds for every call.
#[derive(Clone)]
pub struct Calls<S> {
    inner: S,
    layer: CallLayer,
}

impl<S> Service<Request<Body>> for Calls<S>
where
    S: Service<Request<Body>, Response = Response<Body>> + Clone + Send + 'static,
    S::Future: Send,
{
    type Response = Response<Body>;
    type Error = S::Error;
    type Future = Pin<Box<dyn Future<Output = Result<Response<Body>, S::Error>> + Send>>;

    fn poll_ready(&mut self, context: &mut Context<'_>) -> Poll<Result<(), S::Error>> {
        self.inner.poll_ready(context)
    }

    fn call(&mut self, request: Request<Body>) -> Self::Future {
        // The clone that was polled ready is the one to call.
        let clone = self.inner.clone();
        let mut inner = std::mem::replace(&mut self.inner, clone);
        let method = request.uri().path().trim_start_matches('/').to_owned();
        if is_probe(&method) {
            return Box::pin(inner.call(request));
        }
        let id = self.layer.ids.of(request.headers());
        let span = tracing::info_span!("call", method, request_id = id.to_str().unwrap_or(""));
        let limit = self.layer.deadlines.of(&method, request.headers());
        let place = self.layer.admit();
        let answer = async move {
            let place = match place {
                Ok(place) => place,
                Err(status) => {
                    tracing::warn!(code = ?status.code(), "refused");
                    return Ok(refuse(&status));
                }
            };
            let record = CallRecord::start(tracing::Span::current(), place);
            match timeout(limit, inner.call(request)).await {
                Ok(response) => Ok(CallBody::watch(response?, record)),
                Err(_) => Ok(CallBody::watch(
                    refuse(&errors::deadline_exceeded()),
                    record,
                )),
            }
        };
        let answer = answer.instrument(span);
        Box::pin(async move {
            let mut response = answer.await?;
            response.headers_mut().insert(REQUEST_ID, id);
            Ok(response)
        })
    }
}

/// Probes are never refused, held up or logged.
fn is_probe(method: &str) -> bool {
    method.starts_with("grpc.health.v1.Health/")
}

fn refuse(status: &Status) -> Response<Body> {
    status.clone().into_http()
}

/// Names for calls in log and answer.
struct RequestIds {
    start: u64,
    next: AtomicU64,
}

impl RequestIds {
    fn new() -> Self {
        let start = SystemTime::now()
            .duration_since(UNIX_EPOCH)
            .map_or(0, |t| t.as_micros() as u64);
        Self {
            start,
            next: AtomicU64::new(1),
        }
    }

    /// The caller's own id where it is short and plain, else a new one.
    fn of(&self, headers: &HeaderMap) -> HeaderValue {
        let plain = |id: &&HeaderValue| {
            let bytes = id.as_bytes();
            (1..=64).contains(&bytes.len()) && bytes.iter().all(u8::is_ascii_graphic)
        };
        if let Some(id) = headers.get(REQUEST_ID).filter(plain) {
            return id.clone();
        }
        let number = self.next.fetch_add(1, Ordering::Relaxed);
        HeaderValue::try_from(format!("{:x}-{number:x}", self.start))
            .unwrap_or(HeaderValue::from_static("none"))
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_plain_request_id_is_kept_and_others_are_replaced() {
        let ids = RequestIds::new();
        let mut headers = HeaderMap::new();
        headers.insert(REQUEST_ID, HeaderValue::from_static("dyno-7"));
        assert_eq!(ids.of(&headers), "dyno-7");
        headers.insert(REQUEST_ID, HeaderValue::from_static("two words"));
        let first = ids.of(&headers);
        assert_ne!(first, "two words");
        assert_ne!(first, ids.of(&headers), "every call has its own");
    }
}
