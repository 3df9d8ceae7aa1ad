//! How the season stands: what has been recorded, predicted, measured and done so far.

use crate::{
    CliError,
    commands::{
        Session,
        demo::{
            calendar::Calendar,
            inspections,
            logs::Recorded,
            shop::{TYPICAL, at},
        },
    },
    demo::{self, Event, UnitKind, Work},
};
use ringland_proto::v1::{
    BatchPredictRequest, Component, Correction, CreateComponentRequest, CreateProfileRequest,
    DutyTable, GetCorrectionRequest, Inspection, ListComponentsRequest, ListOverridesRequest,
    Override, PredictRequest, Prediction, Profile, RecordInspectionResponse, RecordOverrideRequest,
    batch_predict_result::Result as Predicted,
};
use tonic::Status;

/// Everything up to now.
pub(super) struct Stand<'a> {
    pub(super) calendar: &'a Calendar,
    pub(super) session: &'a Session,
    pub(super) records: Vec<Recorded>,
    pub(super) rounds: Vec<Round>,
    pub(super) entered: Vec<Entered<'a>>,
    pub(super) done: Vec<&'a Work>,
}

/// What was predicted of every part after an event, for the one that follows.
pub(super) struct Round {
    pub(super) event: String,
    /// Profiles of the following event, by kind of unit: the average so far at its severity.
    profiles: Vec<(UnitKind, String)>,
    /// After the running, before anything was measured.
    pub(super) ran: Vec<Prediction>,
    /// After what was measured and done.
    pub(super) ready: Vec<Prediction>,
    /// What could not be predicted, and why.
    pub(super) failed: Vec<String>,
}

/// An inspection, and what is predicted of its part with it.
pub(super) struct Entered<'a> {
    pub(super) what: &'a demo::Inspection,
    pub(super) answer: RecordInspectionResponse,
    pub(super) after: Prediction,
}

impl Entered<'_> {
    /// The inspection as the ledger has it.
    pub(super) fn inspection(&self) -> Inspection {
        self.answer.inspection.clone().unwrap_or_default()
    }
}

impl<'a> Stand<'a> {
    /// Before the season.
    pub(super) fn new(calendar: &'a Calendar, session: &'a Session) -> Self {
        Self {
            calendar,
            session,
            records: Vec::new(),
            rounds: Vec::new(),
            entered: Vec::new(),
            done: Vec::new(),
        }
    }

    /// After an event's running: predicts every part for the next event.
    pub(super) async fn ran(
        &mut self,
        event: &Event,
        next: Option<&Event>,
    ) -> Result<(), CliError> {
        let severity = next.map_or(1.0, |next| next.severity);
        let mut profiles = Vec::new();
        for (kind, typical, id) in TYPICAL {
            let id = format!("{id}-after-{}", event.code);
            let name = self.average_so_far(typical, severity, id).await?;
            profiles.push((kind, name));
        }
        let (ran, failed) = self.predict_all(&profiles).await?;
        self.rounds.push(Round {
            event: event.code.clone(),
            profiles,
            ran,
            ready: Vec::new(),
            failed,
        });
        Ok(())
    }

    /// After what was measured and done: predicts again.
    pub(super) async fn ready(&mut self) -> Result<(), CliError> {
        let profiles = self.rounds.last().map(|round| round.profiles.clone());
        let (ready, failed) = self.predict_all(&profiles.unwrap_or_default()).await?;
        if let Some(round) = self.rounds.last_mut() {
            round.ready = ready;
            round.failed.extend(failed);
        }
        Ok(())
    }

    /// Records what an owner decides against the advice of the prediction after the event's running.
    pub(super) async fn decide(&self, decision: &demo::Decision) -> Result<Override, Status> {
        let season = &self.calendar.season;
        let advised = self.part(&decision.event, &decision.unit, &decision.part);
        let advised = advised.map_err(|error| Status::not_found(error.to_string()))?;
        let decided = Override {
            subject: advised.component.clone(),
            prediction: advised.name.clone(),
            event: decision.about.clone(),
            advice: advised.advice.clone().unwrap_or_default().text,
            decision: decision.decision.clone(),
            decided_by: decision.by.clone(),
            reason: decision.reason.clone(),
            decision_time: season.decision_unix_s(decision).map(at),
            ..Default::default()
        };
        let request = RecordOverrideRequest {
            r#override: Some(decided),
            ..Default::default()
        };
        let mut client = self.session.api.plans();
        Ok(client.record_override(request).await?.into_inner())
    }

    /// What owners have decided about a part.
    pub(super) async fn decided(&self, component: &str) -> Result<Vec<Override>, CliError> {
        let request = ListOverridesRequest {
            subject: component.to_owned(),
            page_size: 1000,
            ..Default::default()
        };
        let mut client = self.session.api.plans();
        Ok(client.list_overrides(request).await?.into_inner().overrides)
    }

    /// Enters an inspection and predicts its part.
    pub(super) async fn enter(&mut self, what: &'a demo::Inspection) -> Result<(), CliError> {
        let entered = inspections::record(what, self.calendar, self.session).await?;
        let Some(answer) = entered else {
            return Err(CliError::Failed(format!(
                "{} has no {} at {}: build every plugin with deploy/setup",
                what.unit, what.part, what.event
            )));
        };
        let component = answer.inspection.clone().unwrap_or_default().component;
        let profile = self.profile(&what.event, &what.unit)?;
        let after = self.predict(&component, &profile, Vec::new()).await?;
        self.entered.push(Entered {
            what,
            answer,
            after,
        });
        Ok(())
    }

    /// Predictions of an event's round.
    pub(super) fn round(&self, event: &str) -> Result<&Round, CliError> {
        let round = self.rounds.iter().find(|round| round.event == event);
        round.ok_or_else(|| missing(format!("{event} has not been run")))
    }

    /// What was predicted of a unit's part after the running of an event.
    pub(super) fn part(
        &self,
        event: &str,
        unit: &str,
        part: &str,
    ) -> Result<&Prediction, CliError> {
        let place = format!("units/{unit}");
        let mut of_event = self.round(event)?.ran.iter();
        let found = of_event.find(|one| one.unit == place && one.component_type == part);
        found.ok_or_else(|| missing(format!("{unit} has no predicted {part} after {event}")))
    }

    /// The first inspection of a unit's part after an event, and what followed at the same part.
    pub(super) fn measured(
        &self,
        event: &str,
        unit: &str,
        part: &str,
    ) -> Result<&Entered<'a>, CliError> {
        let mut entered = self.entered.iter();
        let found = entered.find(|one| {
            let what = one.what;
            what.event == event && what.unit == unit && what.part == part
        });
        found.ok_or_else(|| missing(format!("{part} of {unit} was not measured after {event}")))
    }

    /// The log of a unit's car at an event.
    pub(super) fn log(&self, event: &str, unit: &str) -> Result<&Recorded, CliError> {
        let found = self.records.iter().find(|recorded| {
            let plan = &recorded.log.plan;
            recorded.is_of_car() && plan.event == event && plan.unit == unit
        });
        found.ok_or_else(|| missing(format!("{unit} has no log of {event}")))
    }

    /// The profile that a unit's parts were predicted by after an event.
    pub(super) fn profile(&self, event: &str, unit: &str) -> Result<String, CliError> {
        let units = &self.calendar.season.units;
        let kind = units.iter().find(|one| one.id == unit).map(|one| one.kind);
        let mut profiles = self.round(event)?.profiles.iter();
        let found = profiles.find(|(of, _)| Some(*of) == kind);
        let found = found.map(|(_, name)| name.clone());
        found.ok_or_else(|| missing(format!("{unit} has no profile after {event}")))
    }

    /// Predicts one part.
    pub(super) async fn predict(
        &self,
        component: &str,
        profile: &str,
        ahead_events: Vec<f64>,
    ) -> Result<Prediction, CliError> {
        let request = PredictRequest {
            component: component.to_owned(),
            profile: profile.to_owned(),
            ahead_events,
            ..Default::default()
        };
        let mut client = self.session.api.predictions();
        Ok(client.predict(request).await?.into_inner())
    }

    /// What readings have taught of a part.
    pub(super) async fn correction(&self, component: &str) -> Result<Correction, CliError> {
        let request = GetCorrectionRequest {
            component: component.to_owned(),
        };
        let mut client = self.session.api.inspections();
        Ok(client.get_correction(request).await?.into_inner())
    }

    /// Makes a part as its model's card has it, on the shelf.
    pub(super) async fn new_part(
        &self,
        component_id: &str,
        component_type: &str,
    ) -> Result<String, CliError> {
        let component = Component {
            component_type: component_type.to_owned(),
            serial: component_id.to_uppercase(),
            ..Default::default()
        };
        let request = CreateComponentRequest {
            component_id: component_id.to_owned(),
            component: Some(component),
            ..Default::default()
        };
        let mut client = self.session.api.components();
        Ok(client.create_component(request).await?.into_inner().name)
    }

    /// Makes a profile whose one event is a table.
    pub(super) async fn table_as_event(
        &self,
        id: &str,
        duty: DutyTable,
    ) -> Result<String, CliError> {
        let profile = Profile {
            display_name: id.replace('-', " "),
            duty: Some(duty),
            ..Default::default()
        };
        self.make(id.to_owned(), profile).await
    }

    /// A profile of the typical unit's average event so far, at a severity.
    async fn average_so_far(
        &self,
        typical: &str,
        severity: f64,
        id: String,
    ) -> Result<String, CliError> {
        let of_car = self
            .records
            .iter()
            .filter(|recorded| recorded.is_of_car() && recorded.log.plan.unit == typical);
        let (mut names, mut events) = (Vec::new(), 0.0);
        for recorded in of_car {
            names.push(recorded.record.name.clone());
            events += recorded.log.plan.events;
        }
        let profile = Profile {
            display_name: "the event that follows, as the average so far at its severity".into(),
            duty_records: names,
            events: events / severity,
            ..Default::default()
        };
        self.make(id, profile).await
    }

    async fn make(&self, profile_id: String, profile: Profile) -> Result<String, CliError> {
        let request = CreateProfileRequest {
            profile_id,
            profile: Some(profile),
            ..Default::default()
        };
        let mut client = self.session.api.duty();
        Ok(client.create_profile(request).await?.into_inner().name)
    }

    /// Predicts whatever is installed; what fails, fails alone and is told.
    async fn predict_all(
        &self,
        profiles: &[(UnitKind, String)],
    ) -> Result<(Vec<Prediction>, Vec<String>), CliError> {
        let mut requests = Vec::new();
        for unit in &self.calendar.season.units {
            let request = ListComponentsRequest {
                installed_in: format!("units/{}", unit.id),
                page_size: 1000,
                ..Default::default()
            };
            let mut client = self.session.api.components();
            let installed = client.list_components(request).await?.into_inner();
            let profile = profiles.iter().find(|(kind, _)| *kind == unit.kind);
            let profile = profile.map_or_else(String::new, |(_, name)| name.clone());
            requests.extend(installed.components.into_iter().map(|one| PredictRequest {
                component: one.name,
                profile: profile.clone(),
                ..Default::default()
            }));
        }
        let names: Vec<String> = requests.iter().map(|one| one.component.clone()).collect();
        let mut client = self.session.api.predictions();
        let request = BatchPredictRequest { requests };
        let results = client.batch_predict(request).await?.into_inner().results;
        let (mut predictions, mut failed) = (Vec::new(), Vec::new());
        for (name, result) in names.into_iter().zip(results) {
            match result.result {
                Some(Predicted::Prediction(prediction)) => predictions.push(prediction),
                Some(Predicted::Error(status)) => {
                    failed.push(format!("{name}: {}", status.message));
                }
                None => failed.push(format!("{name}: the server gave no answer")),
            }
        }
        Ok((predictions, failed))
    }
}

fn missing(what: String) -> CliError {
    CliError::Failed(what)
}
