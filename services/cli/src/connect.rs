//! The connection to the server.

use crate::CliError;
use clap::Args;
use ringland_proto::v1::{
    build_service_client::BuildServiceClient, comparison_service_client::ComparisonServiceClient,
    component_service_client::ComponentServiceClient, duty_service_client::DutyServiceClient,
    evidence_service_client::EvidenceServiceClient,
    inspection_service_client::InspectionServiceClient, ledger_service_client::LedgerServiceClient,
    model_service_client::ModelServiceClient, plan_service_client::PlanServiceClient,
    prediction_service_client::PredictionServiceClient,
    running_in_service_client::RunningInServiceClient,
    treatment_service_client::TreatmentServiceClient, unit_service_client::UnitServiceClient,
};
use std::{error::Error, fs, path::PathBuf, time::Duration};
use tonic::{
    Request, Status,
    metadata::{Ascii, MetadataValue},
    service::{Interceptor, interceptor::InterceptedService},
    transport::{Certificate, Channel, ClientTlsConfig, Endpoint},
};

/// Largest answer taken: a page of a thousand predictions.
const LARGEST_ANSWER: usize = 64 << 20;
const CONNECT_LIMIT: Duration = Duration::from_secs(10);

/// Where the server is and how it knows us.
#[derive(Clone, Debug, Args)]
pub struct ConnectArgs {
    /// Address of the server; https:// for TLS
    #[arg(
        long,
        global = true,
        env = "RINGLAND_SERVER",
        default_value = "http://127.0.0.1:7420",
        value_name = "URL"
    )]
    pub server: String,
    /// File with the bearer token
    #[arg(long, global = true, env = "RINGLAND_TOKEN_FILE", value_name = "FILE")]
    pub token_file: Option<PathBuf>,
    /// File with the certificate authority of the server (PEM), where the system's do not do
    #[arg(long, global = true, env = "RINGLAND_CA_FILE", value_name = "FILE")]
    pub ca_file: Option<PathBuf>,
}

/// Adds the bearer token to every call.
#[derive(Clone, Debug, Default)]
pub struct Token(Option<MetadataValue<Ascii>>);

impl Interceptor for Token {
    fn call(&mut self, mut request: Request<()>) -> Result<Request<()>, Status> {
        if let Some(token) = &self.0 {
            request
                .metadata_mut()
                .insert("authorization", token.clone());
        }
        Ok(request)
    }
}

/// A channel with the token.
pub type Wire = InterceptedService<Channel, Token>;

/// The server's services.
#[derive(Clone, Debug)]
pub struct Api {
    wire: Wire,
}

impl Api {
    /// Connects.
    ///
    /// # Errors
    /// When the address or a file cannot be used, or nobody answers.
    pub async fn connect(arguments: &ConnectArgs) -> Result<Self, CliError> {
        let server = with_scheme(&arguments.server);
        let mut endpoint = Endpoint::from_shared(server.clone())
            .map_err(|error| CliError::Usage(format!("--server {server:?}: {error}")))?
            .connect_timeout(CONNECT_LIMIT)
            .user_agent(concat!("ringland/", env!("CARGO_PKG_VERSION")))
            .map_err(|error| CliError::Failed(error.to_string()))?;
        if server.starts_with("https://") {
            endpoint = endpoint
                .tls_config(tls(arguments)?)
                .map_err(|error| CliError::Usage(format!("TLS: {}", root_cause(&error))))?;
        }
        let token = token(arguments)?;
        let channel = endpoint
            .connect()
            .await
            .map_err(|error| CliError::Unreachable {
                server,
                cause: root_cause(&error),
            })?;
        Ok(Self {
            wire: InterceptedService::new(channel, token),
        })
    }

    /// Units.
    pub fn units(&self) -> UnitServiceClient<Wire> {
        UnitServiceClient::new(self.wire.clone()).max_decoding_message_size(LARGEST_ANSWER)
    }

    /// Builds.
    pub fn builds(&self) -> BuildServiceClient<Wire> {
        BuildServiceClient::new(self.wire.clone()).max_decoding_message_size(LARGEST_ANSWER)
    }

    /// Components.
    pub fn components(&self) -> ComponentServiceClient<Wire> {
        ComponentServiceClient::new(self.wire.clone()).max_decoding_message_size(LARGEST_ANSWER)
    }

    /// Duty.
    pub fn duty(&self) -> DutyServiceClient<Wire> {
        DutyServiceClient::new(self.wire.clone()).max_decoding_message_size(LARGEST_ANSWER)
    }

    /// Inspections.
    pub fn inspections(&self) -> InspectionServiceClient<Wire> {
        InspectionServiceClient::new(self.wire.clone()).max_decoding_message_size(LARGEST_ANSWER)
    }

    /// Predictions.
    pub fn predictions(&self) -> PredictionServiceClient<Wire> {
        PredictionServiceClient::new(self.wire.clone()).max_decoding_message_size(LARGEST_ANSWER)
    }

    /// Seating and power fade.
    pub fn running_in(&self) -> RunningInServiceClient<Wire> {
        RunningInServiceClient::new(self.wire.clone()).max_decoding_message_size(LARGEST_ANSWER)
    }

    /// Plans.
    pub fn plans(&self) -> PlanServiceClient<Wire> {
        PlanServiceClient::new(self.wire.clone()).max_decoding_message_size(LARGEST_ANSWER)
    }

    /// Comparisons.
    pub fn comparisons(&self) -> ComparisonServiceClient<Wire> {
        ComparisonServiceClient::new(self.wire.clone()).max_decoding_message_size(LARGEST_ANSWER)
    }

    /// Treatments.
    pub fn treatments(&self) -> TreatmentServiceClient<Wire> {
        TreatmentServiceClient::new(self.wire.clone()).max_decoding_message_size(LARGEST_ANSWER)
    }

    /// The shop's evidence.
    pub fn evidence(&self) -> EvidenceServiceClient<Wire> {
        EvidenceServiceClient::new(self.wire.clone()).max_decoding_message_size(LARGEST_ANSWER)
    }

    /// Models.
    pub fn models(&self) -> ModelServiceClient<Wire> {
        ModelServiceClient::new(self.wire.clone()).max_decoding_message_size(LARGEST_ANSWER)
    }

    /// The ledger.
    pub fn ledger(&self) -> LedgerServiceClient<Wire> {
        LedgerServiceClient::new(self.wire.clone()).max_decoding_message_size(LARGEST_ANSWER)
    }
}

/// All pages of a list call. `page` gets a page token and answers items and the next token.
///
/// # Errors
/// The first page that fails.
pub async fn all_pages<T>(
    mut page: impl AsyncFnMut(String) -> Result<(Vec<T>, String), Status>,
) -> Result<Vec<T>, CliError> {
    let (mut items, mut token) = (Vec::new(), String::new());
    loop {
        let (more, next) = page(token).await?;
        items.extend(more);
        if next.is_empty() {
            return Ok(items);
        }
        token = next;
    }
}

fn with_scheme(server: &str) -> String {
    if server.contains("://") {
        server.to_owned()
    } else {
        format!("http://{server}")
    }
}

fn tls(arguments: &ConnectArgs) -> Result<ClientTlsConfig, CliError> {
    let Some(path) = &arguments.ca_file else {
        return Ok(ClientTlsConfig::new().with_native_roots());
    };
    let pem = fs::read(path).map_err(|source| CliError::File {
        path: path.clone(),
        source,
    })?;
    Ok(ClientTlsConfig::new().ca_certificate(Certificate::from_pem(pem)))
}

fn token(arguments: &ConnectArgs) -> Result<Token, CliError> {
    let Some(path) = &arguments.token_file else {
        return Ok(Token::default());
    };
    let text = fs::read_to_string(path).map_err(|source| CliError::File {
        path: path.clone(),
        source,
    })?;
    let value = format!("Bearer {}", text.trim()).parse().map_err(|_| {
        CliError::Usage(format!(
            "{}: a token is printable ASCII on one line",
            path.display()
        ))
    })?;
    Ok(Token(Some(value)))
}

/// The innermost cause: "Connection refused" says more than "transport error".
fn root_cause(error: &dyn Error) -> String {
    let mut cause = error;
    while let Some(inner) = cause.source() {
        cause = inner;
    }
    cause.to_string()
}

#[cfg(test)]
mod tests {
    use super::*;

    fn arguments(server: &str) -> ConnectArgs {
        ConnectArgs {
            server: server.into(),
            token_file: None,
            ca_file: None,
        }
    }

    #[tokio::test]
    async fn nobody_there_is_said_with_the_address() {
        // Port 9 (discard) of this machine is not in use by anything that speaks HTTP/2.
        let error = Api::connect(&arguments("127.0.0.1:9")).await.unwrap_err();
        assert_eq!(error.exit_code(), 5);
        assert!(error.to_string().contains("http://127.0.0.1:9"), "{error}");
    }

    #[tokio::test]
    async fn an_address_that_is_none_and_a_missing_token_file() {
        let error = Api::connect(&arguments("http://")).await.unwrap_err();
        assert_eq!(error.exit_code(), 2, "{error}");
        let mut missing = arguments("127.0.0.1:9");
        missing.token_file = Some("no-such-file".into());
        let error = Api::connect(&missing).await.unwrap_err();
        assert!(error.to_string().contains("no-such-file"), "{error}");
    }

    #[tokio::test]
    async fn pages_are_asked_for_until_the_last() {
        let pages = async |token: String| match token.as_str() {
            "" => Ok((vec![1, 2], "next".to_owned())),
            _ => Ok((vec![3], String::new())),
        };
        assert_eq!(all_pages(pages).await.unwrap(), [1, 2, 3]);
    }
}
