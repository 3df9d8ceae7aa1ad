//! The real server as a child process.

use ringland_proto::v1::{
    build_service_client::BuildServiceClient, comparison_service_client::ComparisonServiceClient,
    component_service_client::ComponentServiceClient, duty_service_client::DutyServiceClient,
    evidence_service_client::EvidenceServiceClient,
    inspection_service_client::InspectionServiceClient, ledger_service_client::LedgerServiceClient,
    model_service_client::ModelServiceClient, plan_service_client::PlanServiceClient,
    prediction_service_client::PredictionServiceClient,
    question_service_client::QuestionServiceClient,
    running_in_service_client::RunningInServiceClient,
    treatment_service_client::TreatmentServiceClient, unit_service_client::UnitServiceClient,
};
use std::{path::Path, process::Stdio, time::Duration};
use tempfile::TempDir;
use tokio::process::{Child, Command};
use tonic::transport::Channel;

/// A running server and its folder, which outlives restarts.
pub struct Server {
    child: Child,
    /// `http://127.0.0.1:<port>`
    pub url: String,
    folder: TempDir,
}

/// A client of every service.
#[derive(Clone)]
pub struct Clients {
    /// Units.
    pub units: UnitServiceClient<Channel>,
    /// Builds.
    pub builds: BuildServiceClient<Channel>,
    /// Components.
    pub components: ComponentServiceClient<Channel>,
    /// Comparisons.
    pub comparisons: ComparisonServiceClient<Channel>,
    /// Duty.
    pub duty: DutyServiceClient<Channel>,
    /// Evidence.
    pub evidence: EvidenceServiceClient<Channel>,
    /// Inspections.
    pub inspections: InspectionServiceClient<Channel>,
    /// Plans.
    pub plans: PlanServiceClient<Channel>,
    /// Predictions.
    pub predictions: PredictionServiceClient<Channel>,
    /// Questions.
    pub questions: QuestionServiceClient<Channel>,
    /// Running in.
    pub running_in: RunningInServiceClient<Channel>,
    /// Treatments.
    pub treatments: TreatmentServiceClient<Channel>,
    /// Models.
    pub models: ModelServiceClient<Channel>,
    /// Ledger.
    pub ledger: LedgerServiceClient<Channel>,
}

impl Server {
    /// Starts a server with an empty ledger and these plugins, each active for its type.
    pub async fn start(plugins: &[&Path]) -> Self {
        let folder = TempDir::new().expect("a temporary folder");
        let plugins_dir = folder.path().join("plugins");
        std::fs::create_dir(&plugins_dir).expect("a folder for plugins");
        for plugin in plugins {
            let name = plugin.file_name().expect("a plugin has a file name");
            std::fs::copy(plugin, plugins_dir.join(name)).expect("the plugin can be copied");
        }
        let (child, url) = spawn(folder.path()).await;
        Self { child, url, folder }
    }

    /// Kills the server with no chance to tidy up (SIGKILL), and waits until it is gone.
    pub async fn kill(&mut self) {
        self.child.kill().await.expect("the server can be killed");
    }

    /// Starts the server again over the same folder.
    pub async fn restart(&mut self) {
        let (child, url) = spawn(self.folder.path()).await;
        (self.child, self.url) = (child, url);
    }

    /// Asks the server to stop (SIGTERM) and returns its exit code.
    pub async fn stop(&mut self) -> Option<i32> {
        let pid = self.child.id().expect("the server runs").to_string();
        let told = Command::new("kill")
            .arg(&pid)
            .status()
            .await
            .expect("kill runs");
        assert!(told.success(), "kill {pid}");
        let status = tokio::time::timeout(Duration::from_secs(60), self.child.wait()).await;
        status
            .expect("the server drains")
            .expect("the server can be waited for")
            .code()
    }

    /// The server's process id.
    pub fn pid(&self) -> u32 {
        self.child.id().expect("the server runs")
    }

    /// The folder with ledger, cache and plugins.
    pub fn folder(&self) -> &Path {
        self.folder.path()
    }

    /// Clients over one connection.
    pub async fn clients(&self) -> Clients {
        let endpoint = Channel::from_shared(self.url.clone()).expect("the server's URL is one");
        let channel = endpoint
            .connect()
            .await
            .expect("the server accepts connections");
        Clients {
            units: UnitServiceClient::new(channel.clone()),
            builds: BuildServiceClient::new(channel.clone()),
            components: ComponentServiceClient::new(channel.clone()),
            comparisons: ComparisonServiceClient::new(channel.clone()),
            duty: DutyServiceClient::new(channel.clone()),
            evidence: EvidenceServiceClient::new(channel.clone()),
            inspections: InspectionServiceClient::new(channel.clone()),
            plans: PlanServiceClient::new(channel.clone()),
            predictions: PredictionServiceClient::new(channel.clone()),
            questions: QuestionServiceClient::new(channel.clone()),
            running_in: RunningInServiceClient::new(channel.clone()),
            treatments: TreatmentServiceClient::new(channel.clone()),
            models: ModelServiceClient::new(channel.clone()),
            ledger: LedgerServiceClient::new(channel),
        }
    }
}

async fn spawn(folder: &Path) -> (Child, String) {
    let address_file = folder.join("address");
    let _ = std::fs::remove_file(&address_file); // absent on the first start
    let mut child = Command::new(crate::program("ringland-server"))
        .arg("--listen=127.0.0.1:0")
        .arg(format!("--address-file={}", address_file.display()))
        .arg(format!("--data-dir={}", folder.join("data").display()))
        .arg(format!("--cache-dir={}", folder.join("cache").display()))
        .arg(format!(
            "--plugins-dir={}",
            folder.join("plugins").display()
        ))
        .arg("--set=log.filter=warn")
        .stdin(Stdio::null())
        .kill_on_drop(true)
        .spawn()
        .expect("the server can be started");
    let deadline = tokio::time::Instant::now() + Duration::from_secs(120);
    loop {
        if let Some(address) = std::fs::read_to_string(&address_file)
            .ok()
            .filter(|a| !a.is_empty())
        {
            return (child, format!("http://{}", address.trim()));
        }
        let exited = child.try_wait().expect("the server can be asked");
        assert!(
            exited.is_none(),
            "the server ended before it listened: {exited:?}"
        );
        assert!(
            tokio::time::Instant::now() < deadline,
            "the server never listened"
        );
        tokio::time::sleep(Duration::from_millis(20)).await;
    }
}
