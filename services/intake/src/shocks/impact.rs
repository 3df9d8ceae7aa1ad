//! Vertical acceleration beyond the limit, up or down. Over when it is 20 % below.

use super::exceedance::{Exceedance, value};
use super::{Detector, Layout, Missing};

pub(super) fn detector(layout: &Layout<'_>) -> Result<Box<dyn Detector>, Missing> {
    let acceleration = Some(layout.need("vertical_acceleration_m_s2")?);
    Ok(Box::new(Exceedance {
        kind: "impact",
        sense: 1.0,
        level: Box::new(move |values| value(values, acceleration).abs()),
        limit: layout.thresholds.impact_acceleration_m_s2,
        margin: 0.2,
        armed: Box::new(|_| true),
        means: Box::new(|_| []),
        open: None,
    }))
}
