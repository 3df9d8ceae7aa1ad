//! Parts alike on one line: sixteen springs of which the same is printed.

use super::words;
use ringland_proto::v1::Prediction;
use ringland_sheets::Cell;
use std::collections::{BTreeMap, BTreeSet};

/// A row of one part before it is joined with others.
pub(super) struct Line {
    pub(super) component_type: String,
    /// Position, or the part's own name.
    pub(super) place: String,
    /// Whether it stays a line of its own: flagged, over a cap, past a limit.
    pub(super) alone: bool,
    /// Its cells but the part.
    pub(super) cells: Vec<Cell>,
}

/// How parts are told apart on paper.
pub(super) struct Places {
    by_component: BTreeMap<String, String>,
    /// Types of which there are several.
    several: BTreeSet<String>,
}

impl Places {
    /// `positions` by component; one without a position goes by its name.
    pub(super) fn of(predictions: &[Prediction], positions: &BTreeMap<String, String>) -> Self {
        let (mut seen, mut several) = (BTreeSet::new(), BTreeSet::new());
        let mut by_component = BTreeMap::new();
        for part in predictions {
            if !seen.insert(part.component_type.clone()) {
                several.insert(part.component_type.clone());
            }
            let position = positions.get(&part.component).map_or("", String::as_str);
            let place = match position {
                "" => crate::names::id(&part.component),
                position => position,
            };
            by_component.insert(part.component.clone(), place.to_owned());
        }
        Self {
            by_component,
            several,
        }
    }

    /// Where a part is.
    pub(super) fn place(&self, component: &str) -> &str {
        self.by_component.get(component).map_or("", String::as_str)
    }

    /// Rows in the order of their first lines; each starts with a box to tick and the part with its places.
    pub(super) fn rows(&self, lines: Vec<Line>) -> Vec<Vec<Cell>> {
        let mut joined: Vec<(Line, Vec<String>)> = Vec::new();
        for line in lines {
            let same = joined.iter_mut().find(|(first, _)| {
                !line.alone
                    && !first.alone
                    && first.component_type == line.component_type
                    && first.cells == line.cells
            });
            if let Some((_, places)) = same {
                places.push(line.place);
            } else {
                let places = vec![line.place.clone()];
                joined.push((line, places));
            }
        }
        let row = |(line, places): (Line, Vec<String>)| {
            let mut name = words::type_words(&line.component_type);
            if self.several.contains(&line.component_type) {
                let count = match places.len() {
                    1 => String::new(),
                    count => format!("{count} alike: "),
                };
                name = format!("{name}\n{count}{}", places.join(", "));
            }
            let mut cells = vec![Cell::Tick, Cell::Strong(name)];
            cells.extend(line.cells);
            cells
        };
        joined.into_iter().map(row).collect()
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn line(place: &str, alone: bool, text: &str) -> Line {
        Line {
            component_type: "valve_spring".into(),
            place: place.into(),
            alone,
            cells: vec![text.into()],
        }
    }

    #[test]
    fn alike_parts_share_a_line_and_whoever_is_flagged_has_its_own() {
        let springs = ["a", "b", "c", "d"].map(|id| Prediction {
            component: format!("components/{id}"),
            component_type: "valve_spring".into(),
            ..Default::default()
        });
        let positions = [("components/a".to_owned(), "1 in".to_owned())].into();
        let places = Places::of(&springs, &positions);
        assert_eq!(places.place("components/a"), "1 in");
        assert_eq!(places.place("components/b"), "b");
        let rows = places.rows(vec![
            line("1 in", false, "80 lbf"),
            line("b", true, "80 lbf"),
            line("c", false, "80 lbf"),
            line("d", false, "79 lbf"),
        ]);
        let names: Vec<&Cell> = rows.iter().map(|row| &row[1]).collect();
        let strong = |text: &str| Cell::Strong(text.into());
        assert_eq!(
            names,
            [
                &strong("valve spring\n2 alike: 1 in, c"),
                &strong("valve spring\nb"),
                &strong("valve spring\nd")
            ]
        );
    }
}
