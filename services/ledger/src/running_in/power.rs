//! From measured pulls and the parts' models to how power fades.

use super::{
    fade::{AHEAD, HORIZON, POWER_LOSS, Trend, compare, power_loss, predicted},
    power_rules::{check, factors},
    warning,
};
use crate::{
    AssessPowerFade, Build, ComponentName, FadeComparison, LedgerError, MeasuredFade, PageRequest,
    PowerFadeAssessment, PowerPullUsed, PredictRequest, PredictedFade, Prediction, Profile,
    ProfileName, Reason, UnitName,
    ledger::{DutyRow, Ledger, record_key, record_prefix},
    rows,
};
use jiff::{SignedDuration, Timestamp};
use ringland_host::contract::Finding;
use ringland_store::Table;

/// Common practice, no source.
const LOSS_LIMIT: f64 = 0.02;
/// From pull to pull (common practice, no source).
const SD_RELATIVE: f64 = 0.005;
/// Chi-squared over its degrees of freedom beyond which the error given is doubted. Assumed.
const MOST_SCATTER: f64 = 4.0;
/// Records of a build that are added up for its age.
const MOST_RECORDS: usize = 100_000;

const CAUTIONS: [&str; 2] = [
    "lost power tells of wear late and of a fault early: a sudden loss is a reason to stop and look, not a point on a trend",
    "correction to reference air assumes that mixture, ignition and boost were what they should be; check them first",
];

impl Ledger {
    /// Says how much power a unit has lost since it was seated: by measured pulls, by its parts' models, and the one against
    /// the other. Nothing of the pulls is stored.
    ///
    /// # Errors
    /// [`LedgerError::InvalidArgument`] with everything that is wrong, [`LedgerError::NotFound`],
    /// [`LedgerError::FailedPrecondition`] without a build in use or a profile, and the store's.
    pub fn assess_power_fade(
        &self,
        call: &AssessPowerFade,
    ) -> Result<PowerFadeAssessment, LedgerError> {
        check(call)?;
        let unit = self.get_unit(&call.unit)?;
        let build = self.build_in_use(&call.unit)?;
        let profile =
            self.event_or_refusal(call.profile.clone().or(unit.event_profile), &call.unit)?;
        let mut findings = Vec::new();
        let factors = factors(call, &mut findings)?;
        let now = self.age_events(&build, &profile, None)?;
        let pulls = self.pulls_by_age(call, &build, &profile, &factors)?;
        let limit = call.loss_limit_fraction.unwrap_or(LOSS_LIMIT);
        let points: Vec<(f64, f64)> = pulls
            .iter()
            .map(|pull| (pull.events, pull.corrected_power_w))
            .collect();
        let latest = points.iter().map(|(events, _)| *events).fold(now, f64::max);
        let sd = call.sd_relative.unwrap_or(SD_RELATIVE);
        let trend = Trend::of(&points, call.baseline_power_w, sd, latest);
        let (parts, left_out) = self.parts(&build, &profile.name)?;
        let predicted = predicted(&parts, limit);
        let measured = trend.as_ref().map(|trend| trend.answer(limit));
        let comparison = trend
            .as_ref()
            .zip(predicted.as_ref())
            .map(|(trend, predicted)| compare(trend, predicted));
        notes(&mut findings, call, measured.as_ref(), (now, latest));
        Ok(PowerFadeAssessment {
            unit: call.unit.clone(),
            build: build.name,
            profile: profile.name,
            age_events: now,
            loss_limit_fraction: limit,
            text: text(
                measured.as_ref(),
                predicted.as_ref(),
                comparison.as_ref(),
                limit,
            ),
            measured,
            pulls: match &trend {
                Some(trend) => pulls.into_iter().map(|pull| trend.used(pull)).collect(),
                None => pulls,
            },
            predicted,
            comparison,
            left_out,
            assumptions: assumptions(call, limit, sd),
            findings,
            cautions: CAUTIONS.iter().map(ToString::to_string).collect(),
        })
    }

    fn build_in_use(&self, unit: &UnitName) -> Result<Build, LedgerError> {
        let mut page = PageRequest {
            page_size: 1000,
            ..PageRequest::default()
        };
        loop {
            let builds = self.list_builds(Some(unit), &page)?;
            if let Some(build) = builds
                .items
                .into_iter()
                .rfind(|build| build.teardown_time.is_none())
            {
                return Ok(build);
            }
            if builds.next_page_token.is_empty() {
                let text = format!("{unit} has no build in use; power fades over one: create it");
                return Err(LedgerError::precondition(Reason::BuildNotOpen, unit, text));
            }
            page.page_token = builds.next_page_token;
        }
    }

    fn event_or_refusal(
        &self,
        name: Option<ProfileName>,
        unit: &UnitName,
    ) -> Result<Profile, LedgerError> {
        let Some(name) = name else {
            let text = format!(
                "profile is not given, and {unit} has no event_profile; name a profile, or give the unit one"
            );
            return Err(LedgerError::precondition(
                Reason::ProfileMissing,
                unit,
                text,
            ));
        };
        self.get_profile(&name)
    }

    /// Use of a build by the time of its records, up to a time or altogether.
    fn age_events(
        &self,
        build: &Build,
        profile: &Profile,
        until: Option<Timestamp>,
    ) -> Result<f64, LedgerError> {
        let unit = build.name.parent();
        let just_before = |time: Timestamp| {
            time.checked_sub(SignedDuration::from_nanos(1))
                .unwrap_or(Timestamp::MIN)
        };
        let mut after = record_key(&unit, just_before(build.assembly_time));
        let (mut seconds, mut count) = (0.0, 0);
        loop {
            let read = self
                .store
                .scan(Table::Duty, &record_prefix(&unit), Some(&after), 500)?;
            let Some((last, _)) = read.last() else { break };
            after.clone_from(last);
            for (_, bytes) in &read {
                let record = rows::decode::<DutyRow>(bytes)?.record;
                if until.is_none_or(|until| record.start_time < until) && record.build == build.name
                {
                    seconds += record.duration_s;
                }
                count += 1;
            }
            if count > MOST_RECORDS {
                return Err(LedgerError::ResourceExhausted {
                    what: format!("duty records of {}", build.name),
                    value: count as u64,
                    limit: MOST_RECORDS as u64,
                    remedy: "give the age of pulls in events".into(),
                });
            }
        }
        Ok(seconds / profile.duration_s)
    }

    fn pulls_by_age(
        &self,
        call: &AssessPowerFade,
        build: &Build,
        profile: &Profile,
        factors: &[f64],
    ) -> Result<Vec<PowerPullUsed>, LedgerError> {
        let mut pulls = Vec::with_capacity(call.pulls.len());
        for (pull, factor) in call.pulls.iter().zip(factors) {
            let events = match (pull.events, pull.time) {
                (Some(events), _) => events,
                (None, time) => self.age_events(build, profile, time)?,
            };
            pulls.push(PowerPullUsed {
                events,
                correction_factor: *factor,
                corrected_power_w: factor * pull.power_w,
                loss_fraction: None,
                fitted_loss_fraction: None,
            });
        }
        pulls.sort_by(|a, b| a.events.total_cmp(&b.events));
        Ok(pulls)
    }

    /// Predictions of the parts that speak of power, and why others do not.
    fn parts(
        &self,
        build: &Build,
        profile: &ProfileName,
    ) -> Result<(Vec<Prediction>, Vec<String>), LedgerError> {
        let (mut parts, mut left_out) = (Vec::new(), Vec::new());
        for installation in self.installations_in(&build.name)? {
            if installation.remove_time.is_some() {
                continue;
            }
            let component = installation.component;
            match self.power_of(&component, profile) {
                Ok(Some(prediction)) => parts.push(prediction),
                Ok(None) => left_out.push(format!(
                    "{component}: its model has no reading {POWER_LOSS}"
                )),
                // One part without an answer must not hide the others'.
                Err(error @ LedgerError::FailedPrecondition { .. }) => {
                    left_out.push(format!("{component}: {error}"));
                }
                Err(error) => return Err(error),
            }
        }
        Ok((parts, left_out))
    }

    fn power_of(
        &self,
        component: &ComponentName,
        profile: &ProfileName,
    ) -> Result<Option<Prediction>, LedgerError> {
        let kind = self.component_row(component)?.component_type;
        let card = self.card(self.require_active(&kind)?)?;
        if card
            .readings
            .iter()
            .all(|reading| reading.name != POWER_LOSS)
        {
            return Ok(None);
        }
        let request = PredictRequest {
            profile: Some(profile.clone()),
            ahead_events: AHEAD.to_vec(),
            ..PredictRequest::of(component.clone())
        };
        let prediction = self.predict(&request)?;
        Ok(power_loss(&prediction).is_some().then_some(prediction))
    }
}

fn notes(
    findings: &mut Vec<Finding>,
    call: &AssessPowerFade,
    measured: Option<&MeasuredFade>,
    (now, latest): (f64, f64),
) {
    if measured.is_none() && !call.pulls.is_empty() {
        findings.push(warning(
            "pulls",
            format!("{} at one age", call.pulls.len()),
            "two ages, or a baseline",
            "give the corrected power of the seated engine as the baseline, or pulls of another age",
        ));
    }
    if let Some(fade) = measured {
        let ratio = fade.chi_squared / fade.degrees_of_freedom.max(1) as f64;
        if ratio > MOST_SCATTER {
            findings.push(warning(
                "sd_relative",
                format!("pulls scatter {:.1} times as much as it says", ratio.sqrt()),
                "scatter like the error",
                "the intervals were widened by that; look for a step (a fault, another dyno, another correction) before a trend",
            ));
        }
    }
    if latest > now + 0.5 {
        findings.push(warning(
            "pulls.events",
            format!("{latest:.2}, but the ledger has {now:.2} events of this build"),
            "an age that the build has reached",
            "record the duty that is missing: the prediction knows only what is recorded",
        ));
    }
}

fn assumptions(call: &AssessPowerFade, limit: f64, sd: f64) -> Vec<String> {
    let mut list = vec![
        "measured power falls straight with use; the baseline is its value at the start of the build".to_owned(),
        format!("a pull's power is within {:.2} % from pull to pull (one standard deviation)", 100.0 * sd),
        "losses of parts add up, and what is not known of one part says nothing of another".to_owned(),
    ];
    if call.loss_limit_fraction.is_none() {
        list.push(format!(
            "{:.0} % lost is too much (common practice, no source)",
            100.0 * limit
        ));
    }
    if call.correction.is_some() {
        list.push(
            "power in reference air (99 kPa dry, 298 K) by the law chosen, its formula from memory"
                .to_owned(),
        );
        list.push(
            "an engine whose boost is held by absolute pressure follows the air less than the law says (common practice, no \
             source)"
                .to_owned(),
        );
    }
    list
}

fn text(
    measured: Option<&MeasuredFade>,
    predicted: Option<&PredictedFade>,
    comparison: Option<&FadeComparison>,
    limit: f64,
) -> String {
    let percent = |share: f64| format!("{:.1} %", 100.0 * share);
    let until = |events: f64| {
        if events >= HORIZON {
            format!("more than {HORIZON:.0} events")
        } else {
            format!("{events:.1} events")
        }
    };
    let mut parts = Vec::new();
    if let Some(fade) = measured {
        let now = fade.loss_fraction_now;
        parts.push(format!(
            "{} of the seated power lost as measured ({} to {}), {} until {} are lost",
            percent(now.p50),
            percent(now.p05),
            percent(now.p95),
            until(fade.events_to_limit.p50),
            percent(limit)
        ));
    }
    match predicted {
        Some(fade) => {
            let now = fade.loss_fraction_now;
            parts.push(format!(
                "{} by the models of {} part(s) ({} to {}), {} until {}",
                percent(now.p50),
                fade.components.len(),
                percent(now.p05),
                percent(now.p95),
                until(fade.events_to_limit.p50),
                percent(limit)
            ));
        }
        None => parts.push(format!(
            "no installed part has a model with the reading {POWER_LOSS}"
        )),
    }
    match comparison {
        Some(found) if found.unexplained => parts.push(
            "more is lost than the modelled parts explain: look at valve sealing and timing, ignition, mixture and boost; it is \
             not learnt as wear"
                .into(),
        ),
        Some(_) => parts.push("the modelled parts can explain it".into()),
        None => {}
    }
    parts.join("; ")
}
