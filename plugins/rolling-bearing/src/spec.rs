//! The specimen as named numbers, in the order of the card.

use ringland_mechanics::range::OutOfRange;
use ringland_mechanics::rolling_bearing::{Cleaning, Kind, Row, Walther};
use ringland_plugin::{Finding, Specimen, Surface, error};

use crate::constants as c;

/// How many numbers the card has.
pub const NUMBERS: usize = 2 * BEARING + 23;
const BEARING: usize = 8;

/// Where the set is.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Place {
    /// Gearbox shaft at engine speed.
    InputShaft,
    /// Gearbox shaft behind the gears.
    OutputShaft,
    /// Pinion of the final drive.
    Pinion,
    /// Wheel hub.
    Hub,
}

/// How the bearings are built.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
#[allow(missing_docs, reason = "named on the card")]
pub enum Build {
    DeepGroove,
    AngularBall,
    Taper,
    Cylindrical,
}

impl Build {
    /// Whether both are set against each other, with preload or axial play.
    pub fn paired(self) -> bool {
        matches!(self, Self::AngularBall | Self::Taper)
    }

    /// Whether the elements are balls.
    pub fn balls(self) -> bool {
        matches!(self, Self::DeepGroove | Self::AngularBall)
    }
}

/// One bearing.
#[derive(Debug, Clone, Copy, PartialEq)]
#[allow(missing_docs, reason = "named, with unit, range and note, on the card")]
pub struct Bearing {
    pub rating_n: f64,
    pub static_rating_n: f64,
    pub fatigue_limit_n: f64,
    pub pitch_m: f64,
    pub element_m: f64,
    pub elements: f64,
    pub contact_angle_rad: f64,
    pub roller_length_m: f64,
}

impl Bearing {
    /// Largest element load under the static rating \[N\].
    pub fn static_element_n(&self) -> f64 {
        c::STATIC_SHARE * self.static_rating_n
            / (self.elements.round() * libm::cos(self.contact_angle_rad))
    }
}

/// One gear.
#[derive(Debug, Clone, Copy, PartialEq)]
#[allow(missing_docs, reason = "named, with unit, range and note, on the card")]
pub struct Gear {
    pub ratio: f64,
    pub pitch_m: f64,
    pub position_m: f64,
}

/// Everything the model reads of a specimen.
#[derive(Debug, Clone, PartialEq)]
#[allow(missing_docs, reason = "named, with unit, range and note, on the card")]
pub struct Spec {
    pub place: Place,
    pub build: Build,
    pub cleaning: Cleaning,
    pub bearings: [Bearing; 2],
    pub gears: Vec<Gear>,
    pub spread_m: f64,
    pub play_m: f64,
    pub pressure_angle_rad: f64,
    pub helix_angle_rad: f64,
    pub final_drive_ratio: f64,
    pub pinion_pitch_m: f64,
    pub pinion_cone_rad: f64,
    pub pinion_overhang_m: f64,
    pub wheel_load_n: f64,
    pub lateral_transfer_kg: f64,
    pub tyre_radius_m: f64,
    pub wheel_offset_m: f64,
    pub impact_mass_kg: f64,
    pub full_torque_n_m: f64,
    pub grip_torque_n_m: f64,
    pub oil: Walther,
    pub cleanliness_code: f64,
    pub temp_rise_k: f64,
    pub limiting_speed_rad_s: f64,
    pub drag_friction: f64,
    pub limit_play_growth_m: f64,
    pub limit_dent: f64,
    pub roughness_m: f64,
    /// Spread of ln(roughness).
    pub roughness_ln_sd: f64,
    pub wear_m2_n: f64,
    pub wear_ln_sd: f64,
}

impl Spec {
    /// Reads a specimen; only what cannot be read at all is judged here.
    ///
    /// # Errors
    /// One finding when a list does not have the card's length, an option is not the card's, or the oil's viscosity rises with heat.
    pub fn read(specimen: &Specimen) -> Result<Self, Vec<Finding>> {
        let numbers = specimen.numbers.as_slice();
        if numbers.len() != NUMBERS {
            return Err(wrong("numbers", numbers.len(), NUMBERS));
        }
        let (bearings, rest) = numbers.split_at(2 * BEARING);
        let Ok(rest) = <&[f64; NUMBERS - 2 * BEARING]>::try_from(rest) else {
            return Err(wrong("numbers", numbers.len(), NUMBERS));
        };
        let [raceway, element] = specimen.surfaces.as_slice() else {
            return Err(wrong("surfaces", specimen.surfaces.len(), 2));
        };
        let ([raceway_m, wear_m2_n], [raceway_sd, wear_ln_sd]) = properties("raceway", raceway)?;
        let ([element_m], [element_sd]) = properties("element", element)?;
        let (place, build, cleaning) = choices(&specimen.choices)?;
        let roughness_m = raceway_m.hypot(element_m);
        let share = (raceway_m / roughness_m).powi(2);
        let [
            spread_m,
            play_m,
            pressure_angle_rad,
            helix_angle_rad,
            final_drive_ratio,
            pinion_pitch_m,
            pinion_cone_rad,
            pinion_overhang_m,
            wheel_load_n,
            lateral_transfer_kg,
            tyre_radius_m,
            wheel_offset_m,
            impact_mass_kg,
            full_torque_n_m,
            grip_torque_n_m,
            viscosity_40c_m2_s,
            viscosity_100c_m2_s,
            cleanliness_code,
            temp_rise_k,
            limiting_speed_rad_s,
            drag_friction,
            limit_play_growth_m,
            limit_dent,
        ] = *rest;
        let oil = Walther::new(viscosity_40c_m2_s, viscosity_100c_m2_s).map_err(|found| {
            let (hot, remedy) = (
                "viscosity_100c_m2_s",
                "look the oil's two viscosities up again",
            );
            vec![error(hot, found.value, found.expected, remedy)]
        })?;
        Ok(Self {
            place,
            build,
            cleaning,
            bearings: [bearing(&bearings[..BEARING]), bearing(&bearings[BEARING..])],
            gears: gears(specimen)?,
            spread_m,
            play_m,
            pressure_angle_rad,
            helix_angle_rad,
            final_drive_ratio,
            pinion_pitch_m,
            pinion_cone_rad,
            pinion_overhang_m,
            wheel_load_n,
            lateral_transfer_kg,
            tyre_radius_m,
            wheel_offset_m,
            impact_mass_kg,
            full_torque_n_m,
            grip_torque_n_m,
            oil,
            cleanliness_code,
            temp_rise_k,
            limiting_speed_rad_s,
            drag_friction,
            limit_play_growth_m,
            limit_dent,
            roughness_m,
            roughness_ln_sd: (share * raceway_sd).hypot((1.0 - share) * element_sd),
            wear_m2_n,
            wear_ln_sd,
        })
    }

    /// Kind of the bearings.
    pub fn kind(&self) -> Kind {
        if self.build.balls() {
            Kind::RadialBall
        } else {
            Kind::RadialRoller
        }
    }

    /// Row of a bearing, its radial clearance as set and grown by wear \[m\] where it is not one of a set pair.
    ///
    /// # Errors
    /// The geometry that cannot be.
    pub fn row(&self, index: usize, growth_m: f64) -> Result<Row, OutOfRange> {
        let bearing = &self.bearings[index];
        let count = bearing.elements.round() as usize;
        let (element_m, pitch_m) = (bearing.element_m, bearing.pitch_m);
        let angle_rad = if self.build.paired() {
            bearing.contact_angle_rad
        } else {
            0.0
        };
        let row = if self.build.balls() {
            Row::balls(count, element_m, pitch_m, angle_rad)?
        } else {
            Row::rollers(
                count,
                element_m,
                pitch_m,
                angle_rad,
                bearing.roller_length_m,
            )?
        };
        let clearance_m = if self.build.paired() {
            0.0
        } else {
            self.play_m + growth_m
        };
        Ok(row.with_clearance(clearance_m))
    }

    /// Axial approach of each of a set pair \[m\], negative for play.
    pub fn approach_m(&self, growth_m: f64) -> f64 {
        -0.5 * (self.play_m + growth_m)
    }

    /// Growth of play \[m\] for each metre that a raceway wears: of a set pair axial, of others radial clearance, which counts over the
    /// diameter. Two raceways wear.
    pub fn growth_of_wear(&self, index: usize) -> f64 {
        if self.build.paired() {
            2.0 / libm::sin(self.bearings[index].contact_angle_rad)
        } else {
            4.0
        }
    }

    /// Gear by the number that the duty has: neutral and reverse are taken as the first, higher than the last as the last.
    pub fn gear(&self, number: f64) -> Option<(usize, &Gear)> {
        let index = (number.round().max(1.0) as usize - 1).min(self.gears.len().saturating_sub(1));
        self.gears.get(index).map(|gear| (index, gear))
    }
}

fn bearing(numbers: &[f64]) -> Bearing {
    let at = |index: usize| numbers.get(index).copied().unwrap_or(f64::NAN);
    Bearing {
        rating_n: at(0),
        static_rating_n: at(1),
        fatigue_limit_n: at(2),
        pitch_m: at(3),
        element_m: at(4),
        elements: at(5),
        contact_angle_rad: at(6),
        roller_length_m: at(7),
    }
}

fn choices(choices: &[u32]) -> Result<(Place, Build, Cleaning), Vec<Finding>> {
    let &[place, build, cleaning] = choices else {
        return Err(wrong("choices", choices.len(), 3));
    };
    let place = match place {
        0 => Place::InputShaft,
        1 => Place::OutputShaft,
        2 => Place::Pinion,
        _ => Place::Hub,
    };
    let build = match build {
        0 => Build::DeepGroove,
        1 => Build::AngularBall,
        2 => Build::Taper,
        _ => Build::Cylindrical,
    };
    let cleaning = match cleaning {
        0 => Cleaning::OnlineFilter,
        1 => Cleaning::Bath,
        _ => Cleaning::Grease,
    };
    Ok((place, build, cleaning))
}

fn gears(specimen: &Specimen) -> Result<Vec<Gear>, Vec<Finding>> {
    let Some([ratios, pitches, positions]) = specimen.tables.first().map(|t| t.columns.as_slice())
    else {
        return Err(wrong("gears", specimen.tables.len(), 1));
    };
    let rows = ratios.iter().zip(pitches).zip(positions);
    let gears: Vec<Gear> = rows
        .map(|((ratio, pitch_m), position_m)| Gear {
            ratio: *ratio,
            pitch_m: *pitch_m,
            position_m: *position_m,
        })
        .collect();
    if gears.is_empty() {
        return Err(wrong("gears", 0, 1));
    }
    Ok(gears)
}

/// Values of a surface and the spreads of their logarithms.
type Properties<const N: usize> = ([f64; N], [f64; N]);

fn properties<const N: usize>(
    name: &str,
    surface: &Surface,
) -> Result<Properties<N>, Vec<Finding>> {
    let values = surface.values.as_slice().try_into();
    let ln_sd = surface.ln_sd.as_slice().try_into();
    match (values, ln_sd) {
        (Ok(values), Ok(ln_sd)) => Ok((values, ln_sd)),
        _ => Err(wrong(name, surface.values.len(), N)),
    }
}

fn wrong(field: &str, given: usize, expected: usize) -> Vec<Finding> {
    vec![error(
        field,
        given as f64,
        &format!("{expected} values, in card order"),
        "give one value for each entry of the card",
    )]
}
