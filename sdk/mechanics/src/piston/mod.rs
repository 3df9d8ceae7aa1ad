//! Pistons: temperature of grooves, film under the skirt, ageing of the alloy.
