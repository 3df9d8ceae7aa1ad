//! Complex amplitudes: the few operations that a chain of discs needs.

use std::ops::{Add, Div, Mul, Sub};

/// A complex number. An amplitude c stands for `Re(c exp(iφ))`.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct Complex {
    /// Real part.
    pub re: f64,
    /// Imaginary part.
    pub im: f64,
}

impl Complex {
    /// From its parts.
    pub const fn new(re: f64, im: f64) -> Self {
        Self { re, im }
    }

    /// From magnitude 1 and an angle \[rad\].
    pub fn unit(angle_rad: f64) -> Self {
        Self::new(libm::cos(angle_rad), libm::sin(angle_rad))
    }

    /// Magnitude.
    pub fn magnitude(self) -> f64 {
        libm::hypot(self.re, self.im)
    }

    /// Complex conjugate.
    #[must_use]
    pub fn conjugate(self) -> Self {
        Self::new(self.re, -self.im)
    }

    /// Times a real number.
    #[must_use]
    pub fn scaled(self, by: f64) -> Self {
        Self::new(by * self.re, by * self.im)
    }
}

impl Add for Complex {
    type Output = Self;
    fn add(self, other: Self) -> Self {
        Self::new(self.re + other.re, self.im + other.im)
    }
}

impl Sub for Complex {
    type Output = Self;
    fn sub(self, other: Self) -> Self {
        Self::new(self.re - other.re, self.im - other.im)
    }
}

impl Mul for Complex {
    type Output = Self;
    fn mul(self, other: Self) -> Self {
        Self::new(
            self.re * other.re - self.im * other.im,
            self.re * other.im + self.im * other.re,
        )
    }
}

impl Div for Complex {
    type Output = Self;
    fn div(self, other: Self) -> Self {
        let square = other.re * other.re + other.im * other.im;
        (self * other.conjugate()).scaled(1.0 / square)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// (3 + 4i)/(1 − 2i) = −1 + 2i by hand; the unit at a right angle is i.
    #[test]
    fn arithmetic_by_hand() {
        let quotient = Complex::new(3.0, 4.0) / Complex::new(1.0, -2.0);
        assert!((quotient - Complex::new(-1.0, 2.0)).magnitude() < 1e-15);
        let turned = Complex::unit(std::f64::consts::FRAC_PI_2);
        assert!((turned * turned + Complex::new(1.0, 0.0)).magnitude() < 1e-15);
    }
}
