//! One log line for each call, whatever way it ends.

use http::{HeaderMap, Response};
use http_body::{Body as HttpBody, Frame, SizeHint};
use std::{
    pin::Pin,
    task::{Context, Poll},
    time::Instant,
};
use tokio::sync::OwnedSemaphorePermit;
use tonic::{Code, Status, body::Body};
use tracing::Span;

/// A call under way. It holds the call's place among those under way and logs when it ends.
pub(super) struct CallRecord {
    span: Span,
    begun: Instant,
    code: Option<Code>,
    _place: OwnedSemaphorePermit,
}

impl CallRecord {
    pub fn start(span: Span, place: OwnedSemaphorePermit) -> Self {
        Self {
            span,
            begun: Instant::now(),
            code: None,
            _place: place,
        }
    }

    fn note(&mut self, headers: &HeaderMap) {
        if let Some(status) = Status::from_header_map(headers) {
            self.code = Some(status.code());
        }
    }
}

impl Drop for CallRecord {
    fn drop(&mut self) {
        // No status was sent: the caller went away.
        let code = self.code.unwrap_or(Code::Cancelled);
        let duration_ms = self.begun.elapsed().as_secs_f64() * 1e3;
        let _entered = self.span.enter();
        match code {
            Code::Internal | Code::Unknown | Code::DataLoss => {
                tracing::error!(?code, duration_ms, "call");
            }
            _ => tracing::info!(?code, duration_ms, "call"),
        }
    }
}

/// A response body that keeps its call's record until the end.
pub(super) struct CallBody {
    inner: Body,
    record: Option<CallRecord>,
}

impl CallBody {
    pub fn watch(response: Response<Body>, mut record: CallRecord) -> Response<Body> {
        // A response without messages carries its status in the headers.
        record.note(response.headers());
        response.map(|inner| {
            Body::new(Self {
                inner,
                record: Some(record),
            })
        })
    }
}

impl HttpBody for CallBody {
    type Data = <Body as HttpBody>::Data;
    type Error = Status;

    fn poll_frame(
        mut self: Pin<&mut Self>,
        context: &mut Context<'_>,
    ) -> Poll<Option<Result<Frame<Self::Data>, Status>>> {
        let polled = Pin::new(&mut self.inner).poll_frame(context);
        match &polled {
            Poll::Ready(Some(Ok(frame))) => {
                if let (Some(record), Some(trailers)) = (&mut self.record, frame.trailers_ref()) {
                    record.note(trailers);
                }
            }
            Poll::Ready(_) => self.record = None,
            Poll::Pending => {}
        }
        polled
    }

    fn is_end_stream(&self) -> bool {
        self.inner.is_end_stream()
    }

    fn size_hint(&self) -> SizeHint {
        self.inner.size_hint()
    }
}
