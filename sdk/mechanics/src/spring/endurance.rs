//! Endurance of springs under a pulsating load: factors of safety by Goodman, Gerber and Sines.
//!
//! F. P. Zimmerli (1957) found limits of shear stress at which springs of less than 10 mm wire last: an amplitude about a mean, whatever the steel,
//! its strength and the wire's size. J. E. Shigley, Mechanical Engineering Design, 9th edition, equations 10-28 to 10-31 and example 10-4.

/// An amplitude that is borne for ever about a mean \[Pa\].
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct EndurancePair {
    /// Amplitude \[Pa\].
    pub amplitude_pa: f64,
    /// Mean \[Pa\].
    pub mean_pa: f64,
}

/// Springs not peened: 35 and 55 kpsi.
pub const UNPEENED: EndurancePair = EndurancePair {
    amplitude_pa: 2.41e8,
    mean_pa: 3.79e8,
};
/// Springs peened: 57.5 and 77.5 kpsi.
pub const PEENED: EndurancePair = EndurancePair {
    amplitude_pa: 3.98e8,
    mean_pa: 5.34e8,
};

impl EndurancePair {
    /// Fully reversed strength \[Pa\] by Goodman's line to an ultimate strength in torsion \[Pa\]: `Sa / (1 − Sm/Ssu)`.
    pub fn goodman_reversed_pa(&self, torsional_pa: f64) -> f64 {
        self.amplitude_pa / (1.0 - self.mean_pa / torsional_pa)
    }

    /// Fully reversed strength \[Pa\] by Gerber's parabola: `Sa / (1 − (Sm/Ssu)²)`.
    pub fn gerber_reversed_pa(&self, torsional_pa: f64) -> f64 {
        let share = self.mean_pa / torsional_pa;
        self.amplitude_pa / (1.0 - share * share)
    }

    /// Factor on amplitude and mean alike by which Goodman's line is reached: `1/n = τa/Se + τm/Ssu`.
    pub fn goodman_factor(&self, amplitude_pa: f64, mean_pa: f64, torsional_pa: f64) -> f64 {
        let reversed_pa = self.goodman_reversed_pa(torsional_pa);
        1.0 / (amplitude_pa / reversed_pa + mean_pa / torsional_pa)
    }

    /// Factor on amplitude and mean alike by which Gerber's parabola is reached: `n τa/Se + (n τm/Ssu)² = 1`.
    pub fn gerber_factor(&self, amplitude_pa: f64, mean_pa: f64, torsional_pa: f64) -> f64 {
        let a = amplitude_pa / self.gerber_reversed_pa(torsional_pa);
        let m = mean_pa / torsional_pa;
        // 1/n is the positive root of x² − a x − m² = 0: it has no difference of near equals.
        2.0 / (a + (a * a + 4.0 * m * m).sqrt())
    }

    /// Factor on the amplitude by G. Sines: the mean of a torsion does not count.
    pub fn sines_factor(&self, amplitude_pa: f64) -> f64 {
        self.amplitude_pa / amplitude_pa
    }
}
