//! Hot, thinned oil and pressure dips of engine A.

use super::{Answer, Stand, action, advised, is_overruled, micrometres, overrides, reading};
use crate::{
    CliError,
    commands::season::duty::{growth, shocks, with_channel, without_shocks},
    demo::USUAL_FUEL_IN_OIL_PERCENT,
    numbers::significant,
};
use ringland_proto::v1::{Action, DutyTable};

const EVENT: &str = "r5";
const ENGINE: &str = "engine-a";
const ICE_POINT_K: f64 = 273.15;
const PA_PER_BAR: f64 = 1.0e5;

pub(super) async fn answers(stand: &Stand<'_>) -> Result<Vec<Answer>, CliError> {
    let mut answers = found_in_the_log(stand)?;
    answers.extend(what_it_cost(stand).await?);
    let shells = stand.part(EVENT, ENGINE, "plain_bearing")?;
    let dips = reading(shells, "low_pressure_dips")?;
    answers.push(
        Answer::principle(
            "flag",
            dips > 0.0,
            format!("{} dips that call for a look at the shells", significant(dips, 2)),
        )
        .where_it_differs("the model counts dips below 2 bar that last over 1 s above 5000 1/min; those in this log are shorter or slower"),
    );
    answers.push(Answer::principle(
        "shells-first",
        action(shells) >= Action::Measure,
        advised(shells),
    ));
    let measured = stand.measured(EVENT, ENGINE, "plain_bearing")?;
    answers.push(Answer::principle(
        "cap",
        is_overruled(&measured.after),
        advised(&measured.after),
    ));
    answers.extend(overrides::run_anyway(stand, EVENT, &measured.after).await?);
    Ok(answers)
}

fn found_in_the_log(stand: &Stand<'_>) -> Result<Vec<Answer>, CliError> {
    let record = &stand.log(EVENT, ENGINE)?.record;
    let hot_s: f64 = shocks(record, "oil_overheat", "duration_s").iter().sum();
    let peaks_k = shocks(record, "oil_overheat", "peak_oil_temp_k");
    let peak_k = peaks_k.into_iter().fold(0.0, f64::max);
    let lowest_pa = shocks(record, "oil_pressure_dip", "minimum_oil_pressure_pa");
    let least_pa = lowest_pa.iter().copied().fold(f64::INFINITY, f64::min);
    Ok(vec![
        Answer::figure(
            "overheat",
            hot_s / 60.0,
            format!(
                "oil above 125 degC, up to {} degC",
                significant(peak_k - ICE_POINT_K, 4)
            ),
        ),
        Answer::figure(
            "dips",
            lowest_pa.len() as f64,
            format!(
                "lowest gauge pressure {} bar",
                significant(least_pa / PA_PER_BAR, 2)
            ),
        ),
    ])
}

/// What the same event with its heat and its fuel taken out in turn does to new shells: by the model's own rate those of the engine
/// have no overlay left to lose.
async fn what_it_cost(stand: &Stand<'_>) -> Result<Vec<Answer>, CliError> {
    let log = stand.log(EVENT, ENGINE)?;
    let usual_k = log.log.plan.oil_c + 1.0 + ICE_POINT_K;
    let hot = log.record.duty.clone().unwrap_or_default();
    let cooled = |duty: &DutyTable| {
        let duty = without_shocks(duty, "oil_overheat");
        with_channel(&duty, "oil_temp_k", |temp_k| temp_k.min(usual_k))
    };
    let unthinned = |duty: &DutyTable| {
        let usual = USUAL_FUEL_IN_OIL_PERCENT / 100.0;
        with_channel(duty, "fuel_dilution_fraction", |_| usual)
    };
    let duties = [
        ("r5-of-a-as-usual", cooled(&unthinned(&hot))),
        ("r5-of-a-heat-alone", unthinned(&hot)),
        ("r5-of-a-fuel-alone", cooled(&hot)),
    ];
    let shells = stand
        .new_part("plain-bearing-on-the-shelf", "plain_bearing")
        .await?;
    let mut worn_m = Vec::new();
    for (id, duty) in duties {
        let profile = stand.table_as_event(id, duty).await?;
        worn_m.push(growth(stand, &shells, &profile, "overlay_left_m").await?);
    }
    let [usual_m, with_heat_m, with_fuel_m] = worn_m[..] else {
        return Err(CliError::Failed("three duties were asked about".into()));
    };
    let (heat_m, fuel_m) = (with_heat_m - usual_m, with_fuel_m - usual_m);
    let beside = |with_m: f64| {
        format!(
            "the event wears new shells by {}, by {} with neither",
            micrometres(with_m),
            micrometres(usual_m)
        )
    };
    Ok(vec![
        Answer::figure("heat", heat_m * 1e6, beside(with_heat_m)),
        Answer::figure("dilution", fuel_m * 1e6, beside(with_fuel_m)).where_it_differs(
            "the log has the fuel in the oil from its first minute, and the model's new shells wear more in this event than the rough ones",
        ),
        Answer::principle(
            "killer",
            fuel_m > 2.0 * heat_m.max(0.0),
            format!(
                "{} by fuel, {} by heat",
                micrometres(fuel_m),
                micrometres(heat_m)
            ),
        ),
    ])
}
