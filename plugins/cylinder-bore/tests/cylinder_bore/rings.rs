//! Ring and bore tell the same wear: the two models are asked for the same engine and duty.

use ringland_mechanics::film::pack::{FilmTemperature, Grid, Pack, STATE_OF};
use ringland_plugin::{Model, Specimen, default_specimen};
use ringland_plugin_cylinder_bore::CylinderBore;
use ringland_plugin_cylinder_bore::bore_map::{BoreMap, HEIGHTS, heights_m};
use ringland_plugin_cylinder_bore::spec::Spec;
use ringland_plugin_ring_pack::RingPack;

use crate::scenario::{Prepared, event, plain, smooth};

/// The rings of a bore's specimen: the same numbers and surfaces, as far as their card goes, its own limits.
pub fn rings_of(bore: &Prepared) -> Specimen {
    let mut rings = default_specimen(&RingPack::card());
    let shared = ringland_engine::rings::NUMBERS;
    rings.numbers[..shared].copy_from_slice(&bore.specimen.numbers[..shared]);
    for (ring, of_bore) in rings.surfaces.iter_mut().zip(&bore.specimen.surfaces) {
        let properties = ring.values.len();
        ring.values.copy_from_slice(&of_bore.values[..properties]);
    }
    rings
}

/// What both cards share has the same names in the same places.
#[test]
fn the_shared_part_of_both_cards_is_the_same() {
    let (bore, rings) = (CylinderBore::card(), RingPack::card());
    let shared = ringland_engine::rings::NUMBERS;
    assert_eq!(
        format!("{:?}", &bore.numbers[..shared]),
        format!("{:?}", &rings.numbers[..shared])
    );
    let faces = |card: &ringland_plugin::ModelCard| format!("{:?}", &card.surfaces[..3]);
    assert_eq!(faces(&bore), faces(&rings));
    let slots: Vec<String> = rings.condition.into_iter().map(|slot| slot.name).collect();
    assert!(slots.contains(&bore.duty.mates[0].slot));
}

/// Wear at top-ring reversal and seating by both models over two events, the bore seeing the worn rings as its mate. The ring
/// pack takes the ratio of bore to face wear as that of a seated pack with new crowns; stated: 3 %.
#[test]
fn both_models_wear_the_bore_alike() {
    for bore in [plain(), smooth()] {
        let rings = rings_of(bore);
        let map = RingPack::prepare(rings.clone()).unwrap();
        let mut pack = RingPack::begin(rings.clone(), map.clone(), vec![None; 6]).unwrap();
        let mut condition = bore.begin();
        for events in 1..=2 {
            let mut seen = event();
            seen.mates = vec![pack[0]];
            condition = bore.advance(&condition, &[seen]).remove(0);
            let mut duty = event();
            duty.mates.clear();
            pack = RingPack::advance(rings.clone(), map.clone(), pack, vec![duty])
                .unwrap()
                .remove(0);
            println!(
                "after {events}: bore model {:.4} um, ring model {:.4} um; seating {:.2}, {:.2}",
                1e6 * condition[0],
                1e6 * pack[3],
                condition[HEIGHTS],
                pack[4]
            );
            assert!((condition[0] / pack[3] - 1.0).abs() < 0.03);
            assert!((condition[HEIGHTS] / pack[4] - 1.0).abs() < 1e-9);
        }
    }
}

/// The map at its points of the default event against the contact solved directly: stated, 6 % of the event's dose at reversal and 5 mm
/// below it, seated.
#[test]
fn look_up_against_direct_solution() {
    let spec = Spec::read(&plain().specimen).unwrap();
    let map = BoreMap::read(&plain().map, &spec).unwrap();
    let pack_spec = &spec.rings.pack;
    let pack = Pack::new(pack_spec, Grid::MAP).unwrap();
    let (mut solved, mut looked_up) = ([0.0; HEIGHTS], [0.0; HEIGHTS]);
    let event = event();
    let (points, _) =
        ringland_engine::points_and_over_revs(&CylinderBore::card().duty, &event).unwrap();
    for block in points {
        let looked = map.look_up(&spec, &block);
        let (speed, imep_pa) = (block.speed_rad_s, looked.imep_pa);
        let gas = pack.gas(speed, imep_pa, 0.0, 0.0).unwrap();
        let film = FilmTemperature::new(pack_spec, block.coolant_k, block.oil_k, speed, imep_pa);
        for ring in 0..3 {
            let ring_on_bore = pack.ring_on_bore(ring, &gas, speed, &film, STATE_OF[0]);
            let (_, stroke) = ring_on_bore.unwrap();
            for (sum, height_m) in solved.iter_mut().zip(heights_m(pack_spec)) {
                *sum +=
                    block.cycles() * stroke.dose_pa_m(height_m - pack_spec.below_top_ring_m(ring));
            }
        }
        for (sum, doses) in looked_up.iter_mut().zip(looked.dose_pa_m) {
            *sum += block.cycles() * doses[0];
        }
    }
    let share = solved.map(|dose| dose / solved[0]);
    let off: Vec<f64> = (0..HEIGHTS)
        .map(|k| looked_up[k] / solved[k] - 1.0)
        .collect();
    println!("dose along the bore over that at reversal {share:.4?}, look-up {off:.3?}");
    assert!(off[0].abs() < 0.06 && off[1].abs() < 0.06);
}

/// Steps and cells refined: dose at reversal and 6.7 mm below at two points. Stated: 2 % at reversal, 6 % at 6.7 mm.
#[test]
fn coarse_and_fine_grid_agree() {
    let spec = Spec::read(&plain().specimen).unwrap();
    let spec = &spec.rings.pack;
    let doses: Vec<[f64; HEIGHTS]> = [Grid::MAP, Grid::FINE]
        .map(|grid| {
            let pack = Pack::new(spec, grid).unwrap();
            let mut sums = [0.0; HEIGHTS];
            for (speed, imep_pa) in [(650.0, 2.95e6), (760.0, 2.9e6)] {
                let gas = pack.gas(speed, imep_pa, 0.0, 0.0).unwrap();
                let film = FilmTemperature::nominal(spec, speed, imep_pa);
                for ring in 0..3 {
                    let solved = pack.ring_on_bore(ring, &gas, speed, &film, STATE_OF[0]);
                    let (_, stroke) = solved.unwrap();
                    for (sum, height_m) in sums.iter_mut().zip(heights_m(spec)) {
                        *sum += stroke.dose_pa_m(height_m - spec.below_top_ring_m(ring));
                    }
                }
            }
            sums
        })
        .to_vec();
    let off: Vec<f64> = (0..HEIGHTS)
        .map(|k| doses[0][k] / doses[1][k] - 1.0)
        .collect();
    println!("map's grid against 0.25 deg and 48 cells, by height: {off:.4?}");
    assert!(off[0].abs() < 0.02 && off[1].abs() < 0.06, "{off:?}");
}
