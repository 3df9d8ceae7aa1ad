//! Resource names as people type them: `engine-a` for `units/engine-a`, `engine-a/b-1` for
//! `units/engine-a/builds/b-1`. Full names are taken as they are; the server checks them.

/// `units/{unit}`
pub fn unit(text: &str) -> String {
    in_collection("units", text)
}

/// `units/{unit}/builds/{build}`
pub fn build(text: &str) -> String {
    within("units", "builds", text)
}

/// `units/{unit}/dutyRecords/{record}`
pub fn duty_record(text: &str) -> String {
    within("units", "dutyRecords", text)
}

/// `components/{component}`
pub fn component(text: &str) -> String {
    in_collection("components", text)
}

/// `components/{component}/inspections/{inspection}`
pub fn inspection(text: &str) -> String {
    within("components", "inspections", text)
}

/// `components/{component}/predictions/{prediction}`
pub fn prediction(text: &str) -> String {
    within("components", "predictions", text)
}

/// `treatments/{treatment}`
pub fn treatment(text: &str) -> String {
    in_collection("treatments", text)
}

/// `profiles/{profile}`; empty stays empty.
pub fn profile(text: &str) -> String {
    in_collection("profiles", text)
}

/// `calendars/{calendar}`; empty stays empty.
pub fn calendar(text: &str) -> String {
    in_collection("calendars", text)
}

/// `models/{digest}`; empty stays empty.
pub fn model(text: &str) -> String {
    in_collection("models", text)
}

/// A unit, or a build when there is a slash.
pub fn place(text: &str) -> String {
    if text.starts_with("units/") || !text.contains('/') {
        unit(text)
    } else {
        build(text)
    }
}

/// The last part.
pub fn id(name: &str) -> &str {
    name.rsplit('/').next().unwrap_or(name)
}

/// A build, duty record or prediction without the collections: `engine-a/b-1`.
pub fn short(name: &str) -> String {
    name.split('/')
        .skip(1)
        .step_by(2)
        .collect::<Vec<_>>()
        .join("/")
}

fn in_collection(collection: &str, text: &str) -> String {
    if text.is_empty() || text.contains('/') {
        text.to_owned()
    } else {
        format!("{collection}/{text}")
    }
}

fn within(outer: &str, inner: &str, text: &str) -> String {
    match text.split_once('/') {
        Some((parent, child)) if parent != outer && !child.contains('/') => {
            format!("{outer}/{parent}/{inner}/{child}")
        }
        _ => text.to_owned(),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn short_names_become_full_ones_and_full_ones_stay() {
        assert_eq!(unit("engine-a"), "units/engine-a");
        assert_eq!(unit("units/engine-a"), "units/engine-a");
        assert_eq!(build("engine-a/b-1"), "units/engine-a/builds/b-1");
        assert_eq!(
            build("units/engine-a/builds/b-1"),
            "units/engine-a/builds/b-1"
        );
        assert_eq!(place("engine-a"), "units/engine-a");
        assert_eq!(place("engine-a/b-1"), "units/engine-a/builds/b-1");
        assert_eq!(profile(""), "");
        assert_eq!(
            prediction("rings-a/17"),
            "components/rings-a/predictions/17"
        );
    }

    #[test]
    fn full_names_shorten() {
        assert_eq!(short("units/engine-a/builds/b-1"), "engine-a/b-1");
        assert_eq!(id("components/rings-a"), "rings-a");
        assert_eq!(id(""), "");
    }
}
