//! Specs changed by the names of the card.

use ringland_plugin::{Model, Specimen};

/// A number of the spec, or a property of a surface as `surface.property`.
pub fn value<M: Model>(specimen: &Specimen, name: &str) -> f64 {
    *at::<M>(&mut specimen.clone(), name)
}

/// The specimen with a number, or a property of a surface (`surface.property`), set to a value.
#[must_use]
pub fn with<M: Model>(specimen: &Specimen, name: &str, value: f64) -> Specimen {
    let mut specimen = specimen.clone();
    *at::<M>(&mut specimen, name) = value;
    specimen
}

/// [`with`], several at once.
#[must_use]
pub fn with_all<M: Model>(specimen: &Specimen, changes: &[(&str, f64)]) -> Specimen {
    let mut specimen = specimen.clone();
    for (name, value) in changes {
        *at::<M>(&mut specimen, name) = *value;
    }
    specimen
}

/// The specimen with a number, or a property of a surface (`surface.property`), multiplied.
#[must_use]
pub fn changed<M: Model>(specimen: &Specimen, name: &str, by: f64) -> Specimen {
    with::<M>(specimen, name, by * value::<M>(specimen, name))
}

fn at<'a, M: Model>(specimen: &'a mut Specimen, name: &str) -> &'a mut f64 {
    let card = M::card();
    let Some((surface, property)) = name.split_once('.') else {
        let index = card.number_index(name);
        return &mut specimen.numbers[index.unwrap_or_else(|| panic!("no number {name}"))];
    };
    let index = card.surface_index(surface);
    let index = index.unwrap_or_else(|| panic!("no surface {surface}"));
    let property = card.surfaces[index].property_index(property);
    let property = property.unwrap_or_else(|| panic!("no property {name}"));
    &mut specimen.surfaces[index].values[property]
}
