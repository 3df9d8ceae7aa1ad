//! The dyno cell on the break-in day: 50 Hz, shop units, a warm-up and seven full-load pulls.

use std::io::Write;

use rand::SeedableRng;
use rand_chacha::ChaCha8Rng;

use super::DemoError;
use super::flaws::{Cell, Flaws, Row, Spoiler};
use super::log_plan::LogPlan;
use super::race_car::full_load_n_m;

const STEP_S: f64 = 0.02;
const WARM_UP_S: f64 = 240.0;
const PULL_S: f64 = 12.0;
const BETWEEN_S: f64 = 90.0;
const PULL_FROM_RPM: f64 = 4000.0;
const PULL_TO_RPM: f64 = 8000.0;

const N_M_PER_LBF_FT: f64 = 1.355_817_948_331_400_4;
const PSI_PER_BAR: f64 = 14.503_773_773;
const CFM_PER_L_MIN: f64 = 0.035_314_666_721;

/// One instant of the cell.
#[derive(Debug, Clone, Copy)]
struct Instant {
    rpm: f64,
    torque_n_m: f64,
    oil_c: f64,
    blow_by_l_min: f64,
}

/// Writes one break-in day.
///
/// # Errors
/// [`DemoError::Write`] when the file cannot be written.
pub(super) fn write(
    plan: &LogPlan,
    blow_by_l_min: &[f64],
    seed: u64,
    out: impl Write,
) -> Result<(), DemoError> {
    let mut out = csv::WriterBuilder::new().flexible(true).from_writer(out);
    out.write_record([format!(
        "ENGINE CELL 1 / {} / BREAK-IN",
        plan.unit.to_uppercase()
    )])?;
    out.write_record(["SAMPLE RATE 50 HZ - PRESSURES GAUGE UNLESS MARKED A"])?;
    out.write_record([
        "t_ms", "RPM", "TORQUE", "P_OIL", "P_MAN_A", "T_OIL", "T_H2O", "T_CELL", "BLOWBY",
    ])?;
    out.write_record([
        "ms", "rpm", "lbf.ft", "psi", "psi", "degF", "degF", "degF", "cfm",
    ])?;

    let mut random = ChaCha8Rng::seed_from_u64(seed);
    let length_s = length_s(blow_by_l_min.len());
    let mut spoiler = Spoiler::new(Flaws::draw(length_s, &mut random));
    for k in 0..(length_s / STEP_S) as u64 {
        let time_s = k as f64 * STEP_S;
        let instant = at(time_s, blow_by_l_min, plan.oil_c);
        let row = match spoiler.row(time_s, STEP_S, &mut random) {
            Row::Gone => continue,
            Row::Blank => vec![String::new(); 8],
            Row::Written => cells(&instant, k, time_s, plan, &mut spoiler, &mut random),
        };
        out.write_field((k * 20).to_string())?;
        out.write_record(row)?;
    }
    Ok(out.flush().map_err(csv::Error::from)?)
}

/// How long a day with so many pulls takes \[s\].
fn length_s(pulls: usize) -> f64 {
    WARM_UP_S + pulls as f64 * (PULL_S + BETWEEN_S)
}

fn at(time_s: f64, blow_by_l_min: &[f64], oil_c: f64) -> Instant {
    let oil_c = oil_c - 45.0 * (-time_s / 90.0).exp();
    let idle = |blow_by_l_min: f64| Instant {
        rpm: 2200.0,
        torque_n_m: 40.0,
        oil_c,
        blow_by_l_min,
    };
    let past = time_s - WARM_UP_S;
    if past < 0.0 {
        return idle(0.3 * blow_by_l_min.first().copied().unwrap_or(0.0));
    }
    let pull = (past / (PULL_S + BETWEEN_S)) as usize;
    let Some(blow_by) = blow_by_l_min.get(pull).copied() else {
        return idle(0.0);
    };
    let into = past - pull as f64 * (PULL_S + BETWEEN_S);
    if into > PULL_S {
        return idle(0.3 * blow_by);
    }
    let rpm = PULL_FROM_RPM + (PULL_TO_RPM - PULL_FROM_RPM) * into / PULL_S;
    Instant {
        rpm,
        torque_n_m: full_load_n_m(rpm),
        oil_c,
        blow_by_l_min: blow_by * (0.6 + 0.4 * into / PULL_S),
    }
}

/// The cells after the time. Temperatures come once a second.
fn cells(
    instant: &Instant,
    k: u64,
    time_s: f64,
    plan: &LogPlan,
    spoiler: &mut Spoiler,
    random: &mut ChaCha8Rng,
) -> Vec<String> {
    let oil_psi = PSI_PER_BAR * (0.9 + instant.rpm / 1250.0).min(5.2);
    let manifold_psi = PSI_PER_BAR * (0.42 + instant.torque_n_m * 1.88 / 440.0);
    let fast = [
        format!("{:.0}", Spoiler::speed(instant.rpm, random)),
        format!(
            "{:.1}",
            spoiler.noisy(instant.torque_n_m / N_M_PER_LBF_FT, random)
        ),
        format!("{:.1}", spoiler.noisy(oil_psi, random)),
        format!("{:.1}", spoiler.noisy(manifold_psi, random)),
    ];
    let mut row: Vec<String> = fast
        .into_iter()
        .map(|text| spoiled(text, spoiler, random))
        .collect();
    let water_c = spoiler.coolant(time_s, 85.0 + 0.05 * instant.oil_c);
    for celsius in [instant.oil_c, water_c, plan.ambient_c] {
        let slow = k
            .is_multiple_of(50)
            .then(|| format!("{:.0}", 1.8 * celsius + 32.0));
        row.push(slow.unwrap_or_default());
    }
    let blow_by = spoiler.noisy(instant.blow_by_l_min * CFM_PER_L_MIN, random);
    row.push(if k.is_multiple_of(5) {
        format!("{blow_by:.2}")
    } else {
        String::new()
    });
    row
}

fn spoiled(text: String, spoiler: &Spoiler, random: &mut ChaCha8Rng) -> String {
    match spoiler.cell(random) {
        Cell::Good => text,
        Cell::Missing => String::new(),
        Cell::Garbage => "ERR".to_owned(),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn pulls_sweep_at_full_load_and_show_their_blow_by() {
        let start = WARM_UP_S;
        let first = at(start, &[100.0, 90.0], 105.0);
        assert!((first.rpm - 4000.0).abs() < 1e-9 && (first.torque_n_m - 360.0).abs() < 1e-9);
        let second_end = at(start + PULL_S + BETWEEN_S + PULL_S, &[100.0, 90.0], 105.0);
        assert!((second_end.rpm - 8000.0).abs() < 1e-9);
        assert!((second_end.blow_by_l_min - 90.0).abs() < 1e-9);
    }

    /// 1 lbf·ft is 1 ft times 1 lbf: 0.3048 m by 4.4482216152605 N (NIST SP 811).
    #[test]
    fn units_are_the_defined_ones() {
        assert!((N_M_PER_LBF_FT - 0.3048 * 4.448_221_615_260_5).abs() < 1e-12);
        let psi_pa = 4.448_221_615_260_5 / (0.0254 * 0.0254);
        assert!((PSI_PER_BAR - 1e5 / psi_pa).abs() < 1e-8);
        assert!((CFM_PER_L_MIN - 1e-3 / 0.3048_f64.powi(3)).abs() < 1e-11);
    }
}
