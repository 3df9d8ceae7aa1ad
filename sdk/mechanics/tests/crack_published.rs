//! Crack growth against published geometry factors and against closed forms.

use ringland_mechanics::crack::{
    ParisLaw, SurfaceCrack, centre_crack, critical_size_m, edge_crack, threshold_size_m,
};

fn close(found: f64, expected: f64, tolerance: f64, what: &str) {
    assert!(
        (found / expected - 1.0).abs() <= tolerance,
        "{what}: {found} where {expected} is expected"
    );
}

/// Closed form of Paris' law, worked out independently: m = 3, C = 6.9e-12 m/cycle (MPa√m), Y = 1.12, 200 MPa, 1 mm, `K_Ic` = 60 MPa√m;
/// m = 2, C = 1e-10, 100 MPa, 1 to 20 mm.
#[test]
fn cycles_to_the_critical_size() {
    let steel = ParisLaw {
        rate_m: 6.9e-12,
        exponent: 3.0,
        threshold_pa_sqrt_m: 0.0,
    };
    let last_m = critical_size_m(60e6, 200e6, 1.12);
    close(last_m, 22.837_922e-3, 1e-7, "critical size");
    let sizes = (1e-3, last_m);
    close(
        steel.cycles(200e6, sizes, |_| 1.12),
        115_810.941,
        1e-7,
        "quadrature",
    );
    close(
        steel.cycles_at_constant_factor(200e6, sizes, 1.12),
        115_810.941,
        1e-7,
        "closed form",
    );
    let square = ParisLaw {
        rate_m: 1e-10,
        exponent: 2.0,
        ..steel
    };
    let closed = square.cycles_at_constant_factor(100e6, (1e-3, 20e-3), 1.0);
    close(closed, 953_571.20, 1e-7, "m = 2");
    close(
        square.cycles(100e6, (1e-3, 20e-3), |_| 1.0),
        953_571.20,
        1e-7,
        "m = 2, quadrature",
    );
}

/// The edge-crack polynomial, values to 1e-6; against the independent form of Tada, Paris and Irwin (from memory) it stays within 1 %.
#[test]
fn edge_cracks() {
    for (x, polynomial, tada) in [
        (0.1, 1.183_719, 1.195_701),
        (0.2, 1.370_664, 1.366_661),
        (0.5, 2.826_375, 2.826_581),
    ] {
        close(edge_crack(x), polynomial, 1e-6, "polynomial");
        close(edge_crack(x), tada, 0.011, "Tada");
    }
    close(centre_crack(0.5), 1.189_207, 1e-6, "sec");
}

/// Newman and Raju 1981, tension (coefficients from memory): K over S √(πa) at the surface and at the deepest point, to 0.1 %.
#[test]
fn surface_cracks() {
    for (slender, deep, surface, deepest) in [
        (1.0, 0.0, 0.72880, 0.66254),
        (1.0, 0.2, 0.74368, 0.66757),
        (0.4, 0.2, 0.69284, 0.98337),
        (0.2, 0.2, 0.55904, 1.12213),
        (0.6, 0.5, 0.86478, 0.94014),
        (0.2, 0.8, 1.09404, 1.84770),
    ] {
        let crack = SurfaceCrack {
            depth_over_half_length: slender,
            depth_over_thickness: deep,
            half_length_over_half_width: 0.0,
        };
        let what = format!("a/c {slender}, a/t {deep}");
        close(crack.at_surface(), surface, 1e-3, &what);
        close(crack.at_deepest(), deepest, 1e-3, &what);
    }
}

/// A half-circular crack deep in a half space at its deepest point is Sneddon's penny, 2/π, times the 1.04 of the free surface that Newman and Raju give.
#[test]
fn a_half_penny_is_near_the_penny() {
    let crack = SurfaceCrack {
        depth_over_half_length: 1.0,
        depth_over_thickness: 0.0,
        half_length_over_half_width: 0.0,
    };
    close(
        crack.at_deepest(),
        1.04 * std::f64::consts::FRAC_2_PI,
        2e-3,
        "penny",
    );
}

/// The size at which a stress range of 300 MPa meets a threshold of 5 MPa√m: 0.0884194 mm, closed form.
#[test]
fn the_threshold_size() {
    close(
        threshold_size_m(5e6, 300e6, 1.0),
        0.088_419_4e-3,
        1e-6,
        "threshold size",
    );
}
