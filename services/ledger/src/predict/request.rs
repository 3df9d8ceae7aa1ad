//! From a request to a prediction.

use super::{
    advice::advise,
    drawn::{Case, Drawing, Drawn},
    inspected::{Inspected, overrule},
    lives::{combined_risk, remaining_life},
    notes::{horizon_note, notes},
    readings::readings,
};
use crate::{
    Advice, FieldViolation, LedgerError, PredictRequest, Prediction, PredictionName, Profile,
    ProfileName, Provenance, RateBelief, Reason, Use,
    fold::Folded,
    ledger::{Ledger, crank_revolutions},
    rows,
    violations::Violations,
};
use ringland_host::contract::{Digest, DutyTable, Finding, Rate};

/// Changes when the same inputs would give another answer.
const RULES: &[u8] = b"prediction rules 3";
const MOST_AHEAD: usize = 64;
const DEFAULT_AHEAD: [f64; 5] = [1.0, 2.0, 4.0, 8.0, 16.0];

/// The use to come.
pub(crate) struct Event {
    pub(crate) profile: Profile,
    pub(crate) duty: DutyTable,
    digest: Digest,
}

impl Event {
    /// The event with its oil at another mean temperature: every operating point is moved by the same. `None` when
    /// the profile does not have the channel.
    pub(crate) fn with_oil_temp(mut self, oil_temp_k: f64) -> Result<Option<Self>, LedgerError> {
        let channels = &self.duty.channels;
        let found = channels.iter().position(|channel| channel == "oil_temp_k");
        let Some(column) = found.and_then(|index| self.duty.points.get_mut(index)) else {
            return Ok(None);
        };
        let time_s: f64 = self.duty.time_s.iter().sum();
        let weighted = column.iter().zip(&self.duty.time_s);
        let mean = weighted.map(|(value, time)| value * time).sum::<f64>() / time_s;
        let shift = oil_temp_k - mean;
        for value in column {
            *value += shift;
        }
        self.digest = rows::digest_of(&[&rows::encode(&self.duty)?]);
        Ok(Some(self))
    }

    /// The event of a profile as another duty would make it.
    pub(crate) fn with_duty(&self, duty: DutyTable) -> Result<Self, LedgerError> {
        let digest = rows::digest_of(&[&rows::encode(&duty)?]);
        let profile = Profile {
            duration_s: duty.duration_s,
            crank_revolutions: crank_revolutions(&duty),
            ..self.profile.clone()
        };
        Ok(Self {
            profile,
            duty,
            digest,
        })
    }
}

/// A prediction that is not stored, and the lives that it was drawn from.
pub(crate) struct Made {
    pub(crate) prediction: Prediction,
    pub(crate) drawn: Drawn,
}

impl Ledger {
    /// Predicts one component. The same state of the ledger gives the same prediction, whenever and
    /// in whatever order it came about, and it is stored once.
    ///
    /// A component that is not installed is predicted when a profile is named.
    ///
    /// # Errors
    /// [`LedgerError::InvalidArgument`], [`LedgerError::NotFound`],
    /// [`LedgerError::FailedPrecondition`] when there is no profile or no model, or the model cannot
    /// answer, and the store's.
    pub fn predict(&self, request: &PredictRequest) -> Result<Prediction, LedgerError> {
        let ahead = ahead_of(&request.ahead_events)?;
        let component = self.component_row(&request.component)?;
        let profile = self.profile_for(request)?;
        let event = self.event_of_profile(&profile)?;
        let plugin = match request.model_digest {
            Some(plugin) => plugin,
            None => self.require_active(&component.component_type)?,
        };
        let folded = self.fold(&request.component, plugin)?;
        let inspected = self.inspected(&folded)?;
        let made_from = self.made_from(&folded, &event, &ahead, inspected.digest()?);
        if let Some(known) = self.known_prediction(&request.component, made_from)? {
            return Ok(known);
        }
        let made = self.make(&folded, &event, &ahead, &inspected)?;
        self.keep_prediction(made_from, &made.prediction)
    }

    /// Predicts many, in the order of the requests; what fails, fails alone.
    ///
    /// # Errors
    /// [`LedgerError::ResourceExhausted`] when there are too many.
    pub fn batch_predict(
        &self,
        requests: &[PredictRequest],
    ) -> Result<Vec<Result<Prediction, LedgerError>>, LedgerError> {
        if requests.len() > self.options.max_batch {
            return Err(LedgerError::ResourceExhausted {
                what: "requests in one batch".into(),
                value: requests.len() as u64,
                limit: self.options.max_batch as u64,
                remedy: "send several batches".into(),
            });
        }
        Ok(requests
            .iter()
            .map(|request| self.predict(request))
            .collect())
    }

    pub(crate) fn profile_for(&self, request: &PredictRequest) -> Result<ProfileName, LedgerError> {
        if let Some(profile) = &request.profile {
            return Ok(profile.clone());
        }
        let build = self.get_component(&request.component)?.installed_build;
        let missing = |subject: String, state: &str, remedy: &str| {
            let text = format!("profile is not given, and {state}; {remedy}");
            LedgerError::precondition(Reason::ProfileMissing, subject, text)
        };
        let Some(build) = build else {
            let state = format!(
                "{} is not installed in a unit that has one",
                request.component
            );
            return Err(missing(
                request.component.to_string(),
                &state,
                "name a profile",
            ));
        };
        let unit = self.get_unit(&build.parent())?;
        unit.event_profile.ok_or_else(|| {
            let state = format!("{} has no event_profile", unit.name);
            missing(
                unit.name.to_string(),
                &state,
                "name a profile, or give the unit one",
            )
        })
    }

    pub(crate) fn event_of_profile(&self, name: &ProfileName) -> Result<Event, LedgerError> {
        let mut profile = self.get_profile(name)?;
        let duty = profile.duty.take().unwrap_or_default();
        let digest = rows::digest_of(&[&rows::encode(&duty)?]);
        Ok(Event {
            profile,
            duty,
            digest,
        })
    }

    /// Digest of all that a prediction follows from.
    fn made_from(
        &self,
        folded: &Folded,
        event: &Event,
        ahead: &[f64],
        inspected: Digest,
    ) -> Digest {
        let caps = self.options.risk_caps;
        let settings = [
            f64::from(self.options.samples),
            self.options.horizon_events,
            caps.nuisance,
            caps.power_loss,
            caps.unit_loss,
            caps.hazard,
        ];
        let mates = folded.mates.iter().map(|mate| &mate.value);
        let numbers = settings.iter().chain(mates).chain(ahead);
        let numbers: Vec<u8> = numbers.flat_map(|v| v.to_bits().to_be_bytes()).collect();
        let places = format!(
            "{:?} {:?} {:?} {:?} {:?} {:?}",
            folded.installation,
            folded.row.last_record,
            folded.row.last_end,
            folded.row.tally,
            folded.revision.effective_time,
            folded.mates,
        );
        rows::digest_of(&[
            RULES,
            &folded.plugin.0,
            folded.component.name.component().as_bytes(),
            &folded.row.digest.0,
            &folded.sample.prepared.digest.0,
            event.profile.name.profile().as_bytes(),
            &event.digest.0,
            &numbers,
            places.as_bytes(),
            &inspected.0,
        ])
    }

    /// Predicts a component as it is folded, or as it might be. Nothing is stored.
    pub(crate) fn make(
        &self,
        folded: &Folded,
        event: &Event,
        ahead: &[f64],
        inspected: &Inspected,
    ) -> Result<Made, LedgerError> {
        let (card, component) = (&folded.card, &folded.component);
        let horizon = self.options.horizon_events;
        let drawing = Drawing {
            samples: self.options.samples,
            horizon_events: horizon,
            ahead: ahead.to_vec(),
        };
        let (drawn, more) = self.lives_ahead(folded, inspected, event, &drawing)?;
        let standing = &inspected.standing;
        let limiting = drawn.limiting();
        let installation = folded.installation.as_ref();
        let mut prediction = Prediction {
            // Numbered when it is stored.
            name: PredictionName::new(component.name.component(), "0").map_err(|error| {
                LedgerError::Internal {
                    message: error.to_string(),
                }
            })?,
            component: component.name.clone(),
            component_type: component.component_type.clone(),
            unit: installation.map(|i| i.build.parent()),
            build: installation.map(|i| i.build.clone()),
            as_of_time: folded.row.last_end,
            profile: event.profile.name.clone(),
            life: remaining_life(&drawn.combined.lives, &event.profile, horizon),
            limiting_mechanism: limiting
                .and_then(|(index, _)| card.mechanisms.get(index))
                .map(|mechanism| mechanism.name.clone())
                .unwrap_or_default(),
            limiting_probability: limiting.map_or(0.0, |(_, probability)| probability),
            risk_next_event: combined_risk(&drawn.forecast.mechanisms),
            mechanisms: drawn.mechanisms(card, event, horizon),
            readings: readings(card, &drawn.forecast.readings, ahead),
            advice: Advice {
                action: crate::Action::Run,
                within_events: 0.0,
                reading: String::new(),
                text: String::new(),
            },
            usage: usage_of(folded, event),
            notes: drawn
                .forecast
                .notes
                .iter()
                .cloned()
                .chain(notes(folded, event))
                .chain(more)
                .collect(),
            cautions: card.cautions.clone(),
            leaves_out: card.leaves_out.clone(),
            provenance: self.provenance_of(folded, event, drawn.seed),
            create_time: self.now(),
            overruled_by: standing.overruled.clone(),
        };
        prediction.notes.extend(horizon_note(&prediction));
        prediction.advice = advise(
            card,
            &prediction.mechanisms,
            &prediction.readings,
            &self.options.risk_caps,
        );
        overrule(card, &mut prediction);
        Ok(Made { prediction, drawn })
    }

    /// The lives of a component from now on over an event, in line with what inspections have found.
    pub(crate) fn lives_ahead(
        &self,
        folded: &Folded,
        inspected: &Inspected,
        event: &Event,
        drawing: &Drawing,
    ) -> Result<(Drawn, Vec<Finding>), LedgerError> {
        let case = case_of(folded, inspected.beliefs.clone());
        let mut drawn = self.draw_lives(case, event, drawing)?;
        let standing = &inspected.standing;
        let notes = self.apply_inspections(standing, (folded, event), drawing, &mut drawn)?;
        Ok((drawn, notes))
    }

    fn provenance_of(&self, folded: &Folded, event: &Event, seed: u64) -> Provenance {
        let slots = folded.card.condition.iter().zip(&folded.row.condition);
        Provenance {
            model_digest: folded.plugin,
            model_version: folded.card.version.clone(),
            specimen_digest: folded.sample.prepared.digest,
            duty_digest: folded.row.digest,
            profile_digest: event.digest,
            last_duty_record: folded.row.last_record.clone(),
            seed,
            samples: self.options.samples,
            condition: slots
                .map(|(slot, value)| (slot.name.clone(), *value))
                .collect(),
        }
    }
}

/// The component as it is now, its mates as they are now.
pub(super) fn case_of(folded: &Folded, beliefs: Vec<(Rate, RateBelief)>) -> Case<'_> {
    Case {
        component: &folded.component.name,
        plugin: folded.plugin,
        card: &folded.card,
        specimen: &folded.sample.specimen,
        prepared: &folded.sample.prepared,
        condition: folded.row.condition.clone(),
        mates: folded.mates.iter().map(|mate| mate.value).collect(),
        beliefs,
    }
}

fn usage_of(folded: &Folded, event: &Event) -> Use {
    let tally = &folded.row.tally;
    Use {
        duty_records: tally.duty_records.cast_signed(),
        hours: tally.hours,
        crank_revolutions: tally.crank_revolutions,
        events: tally.hours * 3600.0 / event.profile.duration_s,
    }
}

/// When readings are wanted: now, and at the times asked for in order.
pub(crate) fn ahead_of(asked: &[f64]) -> Result<Vec<f64>, LedgerError> {
    let mut violations = Violations::default();
    if asked.len() > MOST_AHEAD {
        let expected = format!("at most {MOST_AHEAD}");
        violations.add("ahead_events", asked.len(), &expected, "ask for fewer");
    }
    for (i, events) in asked.iter().take(MOST_AHEAD).enumerate() {
        if !(0.0..=10_000.0).contains(events) {
            violations.push(FieldViolation::new(
                &format!("ahead_events[{i}]"),
                &events.to_string(),
                "0 to 10000 events",
                "correct it",
            ));
        }
    }
    violations.into_result()?;
    let asked = if asked.is_empty() {
        &DEFAULT_AHEAD
    } else {
        asked
    };
    let mut ahead = vec![0.0];
    ahead.extend(asked.iter().filter(|events| **events > 0.0));
    ahead.sort_by(f64::total_cmp);
    ahead.dedup();
    Ok(ahead)
}
