//! Fields of the spec. The names are the same in every plugin; the defaults are an invented roller-finger train with an aggressive cam.

use ringland_mechanics::cam::{EventLift, Follower, LiftCurve};
use ringland_mechanics::spring::Spring;
use ringland_mechanics::valve_train::{SpringModes, Train};
use ringland_plugin::{
    ChoiceField, Finding, NumberField, Specimen, TableField, choice, error, number, table, warning,
};

/// How many [`numbers`] there are.
pub const NUMBERS: usize = 21;

/// Option of [`follower`]: a flat tappet, or a bucket on the valve.
pub const FLAT: u32 = 0;
/// Option of [`follower`]: a finger or rocker with a sliding pad.
pub const SLIDER: u32 = 1;
/// Option of [`follower`]: a finger or rocker with a roller.
pub const ROLLER: u32 = 2;

/// Rows of the default lift table.
const DEFAULT_ROWS: usize = 181;
/// The default lift: an invented fast lobe.
const DEFAULT_LIFT: EventLift = EventLift {
    max_lift_m: 12.6e-3,
    half_duration_rad: 1.24,
    ramp_height_m: 0.45e-3,
    ramp_slope_m: 0.9e-3,
    exponents: [8, 16, 26],
};

/// Numbers of one valve and its train, first on the card of a part of it.
#[rustfmt::skip]
pub fn numbers() -> Vec<NumberField> {
    vec![
        number("limiter_speed_rad_s", "engine speed at the limiter", "rad/s", (200.0, 2000.0), 880.0, "Crank speed. Reference for maps and readings at full speed."),
        number("rocker_ratio", "valve lift over cam lift", "1", (0.8, 2.2), 1.6, "1 for a bucket."),
        number("moving_mass_kg", "mass that moves at the valve, without the spring", "kg", (0.03, 0.6), 0.11, "Valve, retainer, keepers, and rocker, pushrod and follower as felt at the valve; weighed and computed."),
        number("train_stiffness_n_m", "stiffness between cam and valve, at the valve", "N/m", (1.0e6, 1.0e8), 2.0e7, "Load the retainer on a stopped cam and read a dial indicator. Default assumed."),
        number("train_damping_ratio", "damping of the train, share of critical", "1", (0.01, 0.5), 0.08, "Assumed."),
        number("lash_m", "lash at the valve, hot", "m", (0.0, 0.8e-3), 0.20e-3, "Feeler gauge, +-0.012 mm."),
        number("seat_stiffness_n_m", "stiffness of seat, head and stem in an impact", "N/m", (1.0e7, 3.0e8), 6.5e7, "Section of the stem times modulus over length."),
        number("seat_damping_ratio", "damping of the seat, share of critical", "1", (0.02, 0.8), 0.25, "Decides how far the valve bounces. Assumed."),
        number("base_radius_m", "base circle: radius", "m", (0.008, 0.04), 0.017, "Micrometer."),
        number("follower_radius_m", "roller or pad: radius", "m", (0.004, 0.2), 0.0095, "Of no meaning for a flat follower."),
        number("wire_m", "spring: wire diameter", "m", (1.5e-3, 8.0e-3), 3.8e-3, "Micrometer."),
        number("coil_m", "spring: mean coil diameter", "m", (0.01, 0.06), 0.022, "Outer diameter less the wire."),
        number("active_coils", "spring: active coils", "1", (2.5, 12.0), 4.6, ""),
        number("shear_modulus_pa", "spring: shear modulus", "Pa", (3.5e10, 9.0e10), 7.85e10, "Steel about 7.85e10 hot. From the measured rate."),
        number("spring_density_kg_m3", "spring: density", "kg/m3", (4000.0, 9000.0), 7850.0, "Steel 7850."),
        number("seat_load_n", "spring force on the closed valve", "N", (100.0, 1500.0), 400.0, "Spring tester at the installed height, +-1.5 %."),
        number("spring_damping_ratio", "spring: damping of each mode, share of critical", "1", (0.002, 0.2), 0.02, "About 0.005 bare, more with a damper coil. Assumed."),
        number("arm_length_m", "rocker: pivot to valve tip", "m", (0.015, 0.1), 0.045, "Moves the contact over the tip. Of no meaning for a flat follower."),
        number("tip_friction", "friction between rocker and valve tip", "1", (0.0, 0.3), 0.08, "Assumed."),
        number("tip_offset_m", "rocker contact off the stem's axis at mid lift", "m", (-3.0e-3, 3.0e-3), 0.2e-3, "From the witness mark on the tip."),
        number("spring_side_share", "side force of the spring over its force", "1", (0.0, 0.15), 0.02, "Ends not square, coils not concentric. Assumed."),
    ]
}

/// The follower, first choice on the card.
pub fn follower() -> ChoiceField {
    let options = [
        ("flat", "flat tappet or bucket"),
        ("slider", "finger or rocker with a sliding pad"),
        ("roller", "finger or rocker with a roller"),
    ];
    choice("follower", "follower", &options, ROLLER, "")
}

/// The lift curve, first table on the card.
pub fn lift() -> TableField {
    let column = |name, label, unit, range| number(name, label, unit, range, 0.0, "");
    let (angle_rad, lift_m) = DEFAULT_LIFT.table(DEFAULT_ROWS);
    table(
        "lift",
        "valve lift without lash over cam angle",
        vec![
            column(
                "cam_angle_rad",
                "cam angle, 0 near full lift",
                "rad",
                (-3.1, 3.1),
            ),
            column(
                "lift_m",
                "lift at the valve, cam lift times ratio",
                "m",
                (0.0, 0.03),
            ),
        ],
        (24, 1500),
        vec![angle_rad, lift_m],
        "Degree wheel and dial indicator with zero lash, from base circle to base circle, ramps included. A smooth table: surge hangs on its curvature. Default: a polynomial lobe of 12.6 mm.",
    )
}

/// One valve with its train.
#[derive(Debug, Clone, PartialEq)]
#[allow(missing_docs, reason = "named, with unit, range and note, on the card")]
pub struct ValveTrain {
    pub follower_option: u32,
    pub lift: LiftCurve,
    pub limiter_speed_rad_s: f64,
    pub rocker_ratio: f64,
    pub moving_mass_kg: f64,
    pub train_stiffness_n_m: f64,
    pub train_damping_ratio: f64,
    pub lash_m: f64,
    pub seat_stiffness_n_m: f64,
    pub seat_damping_ratio: f64,
    pub base_radius_m: f64,
    pub follower_radius_m: f64,
    pub spring: Spring,
    pub seat_load_n: f64,
    pub spring_damping_ratio: f64,
    pub arm_length_m: f64,
    pub tip_friction: f64,
    pub tip_offset_m: f64,
    pub spring_side_share: f64,
}

impl ValveTrain {
    /// Reads the first [`NUMBERS`] numbers, the first choice and the first table of a specimen.
    ///
    /// # Errors
    /// Fewer of them, or a lift table that is no lift curve.
    pub fn read(specimen: &Specimen) -> Result<Self, Vec<Finding>> {
        Self::read_from(specimen, 0)
    }

    /// [`Self::read`], with the numbers of the train from an index on.
    ///
    /// # Errors
    /// As [`Self::read`].
    pub fn read_from(specimen: &Specimen, first: usize) -> Result<Self, Vec<Finding>> {
        let numbers = specimen.numbers.get(first..).unwrap_or_default();
        let (Some(&numbers), Some(&follower_option), Some(table)) = (
            numbers.first_chunk::<NUMBERS>(),
            specimen.choices.first(),
            specimen.tables.first(),
        ) else {
            let expected =
                format!("{NUMBERS} numbers, a follower and a lift table of the valve train");
            let remedy = "give one value for each entry of the card";
            return Err(vec![error(
                "numbers",
                numbers.len() as f64,
                &expected,
                remedy,
            )]);
        };
        let [
            limiter_speed_rad_s,
            rocker_ratio,
            moving_mass_kg,
            train_stiffness_n_m,
            train_damping_ratio,
            lash_m,
            seat_stiffness_n_m,
            seat_damping_ratio,
            base_radius_m,
            follower_radius_m,
            wire_m,
            coil_m,
            active_coils,
            shear_modulus_pa,
            density_kg_m3,
            seat_load_n,
            spring_damping_ratio,
            arm_length_m,
            tip_friction,
            tip_offset_m,
            spring_side_share,
        ] = numbers;
        let spring = Spring {
            wire_m,
            coil_m,
            active_coils,
            shear_modulus_pa,
            density_kg_m3,
        };
        let column = |index: usize| table.columns.get(index).map_or(&[][..], Vec::as_slice);
        let lift = LiftCurve::new(column(0), column(1)).map_err(|wrong| {
            let remedy =
                "measure the lobe from base circle to base circle, in the order of its angles";
            vec![error(
                "lift",
                wrong.to_string().as_str(),
                "a lift curve",
                remedy,
            )]
        })?;
        Ok(Self {
            follower_option,
            lift,
            limiter_speed_rad_s,
            rocker_ratio,
            moving_mass_kg,
            train_stiffness_n_m,
            train_damping_ratio,
            lash_m,
            seat_stiffness_n_m,
            seat_damping_ratio,
            base_radius_m,
            follower_radius_m,
            spring,
            seat_load_n,
            spring_damping_ratio,
            arm_length_m,
            tip_friction,
            tip_offset_m,
            spring_side_share,
        })
    }

    /// The train against itself.
    pub fn check(&self) -> Vec<Finding> {
        let mut findings = Vec::new();
        let index = self.spring.index();
        if index < 3.0 {
            let expected = "a mean coil diameter of at least 3 wires";
            findings.push(error(
                "coil_m",
                self.spring.coil_m,
                expected,
                "measure wire and outer diameter again",
            ));
        }
        let highest_m = self.lift.largest_m();
        if self.lash_m > 0.1 * highest_m {
            let expected = format!("at most a tenth of the lift of {:.2} mm", 1.0e3 * highest_m);
            findings.push(error(
                "lash_m",
                self.lash_m,
                &expected,
                "check the units of lash and lift",
            ));
        }
        if self.follower_option == FLAT && (self.rocker_ratio - 1.0).abs() > 1.0e-9 {
            let expected = "1 for a bucket; a flat tappet under a pushrod may have another";
            findings.push(warning(
                "rocker_ratio",
                self.rocker_ratio,
                expected,
                "check the follower",
            ));
        }
        self.check_curvature(&mut findings);
        self.check_float(&mut findings);
        findings
    }

    /// A cam whose flank or nose would be sharper than it can be ground.
    fn check_curvature(&self, findings: &mut Vec<Finding>) {
        let sharpest_m = self.sharpest_cam_radius_m();
        if sharpest_m < 0.5e-3 {
            let expected = "a cam that is nowhere sharper than 0.5 mm";
            let remedy = "check base circle, ratio, follower radius and the lift table (smooth it)";
            findings.push(error("base_radius_m", self.base_radius_m, expected, remedy));
        }
    }

    /// Smallest convex radius of curvature of the cam \[m\]; below 0 where the follower would cut off what it has to follow. A hollow flank does not count.
    pub fn sharpest_cam_radius_m(&self) -> f64 {
        let steps = 720;
        (0..steps)
            .map(|step| {
                let angle_rad = -std::f64::consts::PI
                    + f64::from(step) * std::f64::consts::TAU / f64::from(steps);
                let cam = self.contact(&self.lift.at(angle_rad), 1.0);
                let hollow = cam.cam_radius_m < 0.0 && cam.equivalent_radius_m > 0.0;
                if hollow {
                    f64::INFINITY
                } else {
                    cam.cam_radius_m
                }
            })
            .fold(f64::INFINITY, f64::min)
    }

    /// Without surge the spring has to hold the valve on the cam to the limiter.
    fn check_float(&self, findings: &mut Vec<Finding>) {
        let cam_rad_s = 0.5 * self.limiter_speed_rad_s;
        let mass_kg = self.moving_mass_kg + self.spring.active_mass_kg() / 3.0;
        let short = (0..720).find_map(|step| {
            let angle_rad = -std::f64::consts::PI + f64::from(step) * std::f64::consts::TAU / 720.0;
            let lift = self.lift.at(angle_rad);
            let spring_n = self.seat_load_n + self.spring.rate_n_m() * lift.lift_m;
            let needed_n = -lift.curvature_m * cam_rad_s * cam_rad_s * mass_kg;
            (needed_n > spring_n).then_some((needed_n, spring_n))
        });
        if let Some((needed_n, spring_n)) = short {
            let expected = format!(
                "a load that holds the valve on the cam at the limiter: {needed_n:.0} N are needed where the spring gives {spring_n:.0} N"
            );
            findings.push(warning(
                "seat_load_n",
                self.seat_load_n,
                &expected,
                "stiffer spring, lighter parts or a lower limiter",
            ));
        }
    }

    /// The follower's shape.
    pub fn follower(&self) -> Follower {
        if self.follower_option == FLAT {
            Follower::Flat
        } else {
            Follower::Radiused {
                radius_m: self.follower_radius_m,
            }
        }
    }

    /// The spring as a wave guide.
    pub fn spring_modes(&self) -> SpringModes {
        SpringModes::new(
            self.spring.rate_n_m(),
            self.spring.active_mass_kg(),
            self.spring.natural_frequency_rad_s(),
            self.spring_damping_ratio,
        )
    }

    /// The train with a spring of a seat load \[N\].
    pub fn train(&self, seat_load_n: f64) -> Train {
        Train {
            lift: self.lift.clone(),
            moving_mass_kg: self.moving_mass_kg,
            stiffness_n_m: self.train_stiffness_n_m,
            damping_ratio: self.train_damping_ratio,
            lash_m: self.lash_m,
            seat_stiffness_n_m: self.seat_stiffness_n_m,
            seat_damping_ratio: self.seat_damping_ratio,
            spring: self.spring_modes(),
            seat_load_n,
        }
    }
}
