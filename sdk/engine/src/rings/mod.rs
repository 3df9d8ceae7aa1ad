//! What the models of a ring pack and of a cylinder bore share: the fields of the spec that describe rings, bore finish and
//! gas path, reading and checking them, and a map of the contact over operating points. The physics is
//! `ringland_mechanics::film::pack`.

mod check;
mod fields;
mod map;

pub use fields::{
    BORE_PROPERTIES, BORE_WEAR_COEFFICIENT_M2_N, BoreWear, FACE_WEAR_COEFFICIENT_M2_N, FaceWear,
    NUMBERS, Rings, bore_properties, faces, numbers,
};
pub use map::{ContactMap, LOAD_NODES, Node, PRODUCT_NODES, prepare};
