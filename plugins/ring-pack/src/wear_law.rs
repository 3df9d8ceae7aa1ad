//! What a stretch of duty adds.

use ringland_mechanics::film::pack::StateRate;

/// What a stretch of duty adds, whatever the condition it meets.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct Stretch {
    /// Faces of top ring, second ring and rails.
    pub faces: [StateRate; 3],
    /// Wear of the bore at top-ring reversal, seated, under new crowns \[m\].
    pub bore_m: f64,
    /// Seating dose \[1\].
    pub seating: f64,
    /// Hours at reference groove temperature.
    pub heat_h: f64,
}

impl Stretch {
    /// Wear of the bore at top-ring reversal over that of the top face, in the stretch: two doses of the same contact and the two wear
    /// coefficients. Taken seated and under a new crown; 0 for a stretch of nothing.
    pub fn bore_over_face(&self) -> f64 {
        let face_m = self.faces[0].at(0.0, 1.0);
        if face_m > 0.0 {
            self.bore_m / face_m
        } else {
            0.0
        }
    }
}
