//! What stands against a move of a part.

use super::{
    outlook::{Outlook, State},
    overriding::overriding,
};
use crate::{
    Component, Installation, Obstacle, ObstacleKind, RiskCaps, compare::alone, ledger::Ledger,
};
use ringland_host::contract::Consequence;

/// Label of parts that stay together: whatever has the same value is one set.
const MATCHED_SET: &str = "matched_set";
/// Label of a part whose use before it came to the shop is not known, with the value `unknown`.
const HISTORY: &str = "history";

fn obstacle(kind: ObstacleKind, refuses: bool, text: String) -> Obstacle {
    Obstacle {
        kind,
        refuses,
        text,
    }
}

/// What the part itself says.
pub(super) fn of_part(component: &Component, state: &State, caps: &RiskCaps) -> Vec<Obstacle> {
    let mut found = Vec::new();
    if let Some(retirement) = &component.retirement {
        let text = format!(
            "it was retired at {}; a part that came to its end is not put back",
            retirement.retire_time
        );
        found.push(obstacle(ObstacleKind::Retired, true, text));
    }
    found.extend(history(component, state));
    let standing = !state.made.prediction.overruled_by.is_empty();
    for stop in overriding(state, caps) {
        let kind = if standing {
            ObstacleKind::Finding
        } else {
            ObstacleKind::PastLimit
        };
        found.push(obstacle(
            kind,
            true,
            format!("{}. {}", stop.text, stop.closes),
        ));
    }
    found
}

/// Use that is not known counts as the end of life of a part that ends by fatigue: nothing measurable tells it.
fn history(component: &Component, state: &State) -> Option<Obstacle> {
    let told = component.labels.get(HISTORY);
    let unknown = told.is_some_and(|value| value.eq_ignore_ascii_case("unknown"));
    let unlogged = component.installed_build.is_some()
        && component.opening_condition.is_empty()
        && state.folded.row.tally.duty_records == 0;
    if !unknown && !unlogged {
        return None;
    }
    let hidden = state.folded.card.mechanisms.iter().find(|mechanism| {
        mechanism.consequence >= Consequence::UnitLoss && mechanism.reading.is_none()
    });
    let why = if unknown {
        "its use before it came to this ledger is not known"
    } else {
        "it is in a build, and no duty of it is recorded"
    };
    let kind = ObstacleKind::HistoryUnknown;
    Some(match hidden.filter(|_| unknown) {
        Some(mechanism) => {
            let text = format!(
                "{why}, and no measurement tells its {}: it counts as at the end of its life. Replace it, or enter what is \
                 known of its use as its opening condition",
                mechanism.label
            );
            obstacle(kind, true, text)
        }
        None => obstacle(kind, false, format!("{why}: measure it before it goes in")),
    })
}

/// What its place says: another hand, parts that stay behind.
pub(super) fn of_leaving(
    component: &Component,
    last: Option<&Installation>,
    position: &str,
    behind: &[(Component, String)],
    state: &State,
) -> Vec<Obstacle> {
    let mut found = Vec::new();
    if let Some(last) = last
        && let (Some(one), Some(other)) = (hand(&last.position), hand(position))
        && one != other
    {
        let text = format!(
            "it was on the {one} and would be on the {other}: a shaft that was loaded one way is not turned round; keep its hand"
        );
        found.push(obstacle(ObstacleKind::Hand, true, text));
    }
    let set = component.labels.get(MATCHED_SET);
    for (other, place) in behind {
        let same_set = set.is_some() && other.labels.get(MATCHED_SET) == set;
        let id = other.name.component();
        if same_set {
            let text =
                format!("{id} is matched with it and would stay behind: move the set together");
            found.push(obstacle(ObstacleKind::MatchedSet, true, text));
            continue;
        }
        let needs = state.folded.card.duty.mates.iter();
        let own_place = last.is_none_or(|last| last.position.is_empty() || last.position == *place);
        if own_place
            && needs
                .clone()
                .any(|need| need.component_type == other.component_type)
        {
            let text = format!(
                "it has run with {id}, which would stay behind: its contact starts anew with what is there"
            );
            found.push(obstacle(ObstacleKind::MatchedSet, false, text));
        }
    }
    found
}

/// `left` or `right`, where a position says so.
fn hand(position: &str) -> Option<&'static str> {
    let lower = position.to_lowercase();
    let mut words = lower.split(|c: char| !c.is_alphanumeric());
    words.find_map(|word| match word {
        "left" | "lh" | "l" => Some("left"),
        "right" | "rh" | "r" => Some("right"),
        _ => None,
    })
}

/// What the new place says.
pub(super) fn of_place(
    component: &Component,
    position: &str,
    occupant: Option<&Outlook>,
    there: &[Outlook],
) -> Vec<Obstacle> {
    let kind = component.component_type.replace('_', " ");
    match occupant {
        Some(other) if other.component_type != component.component_type => {
            let text = format!(
                "at {position:?} is {}, a {}, and this is a {kind}: name the position of a {kind}",
                other.component.component(),
                other.component_type.replace('_', " ")
            );
            vec![obstacle(ObstacleKind::WrongType, true, text)]
        }
        Some(other) => {
            let text = format!(
                "{} is there and comes out for it; the figures take it as out",
                other.component.component()
            );
            vec![obstacle(ObstacleKind::PositionTaken, false, text)]
        }
        None if there
            .iter()
            .all(|part| part.component_type != component.component_type) =>
        {
            let text = format!("the unit holds no {kind}: it is no place for one");
            vec![obstacle(ObstacleKind::WrongType, true, text)]
        }
        None => Vec::new(),
    }
}

impl Ledger {
    /// The other parts of a build with their positions.
    pub(super) fn others_in(
        &self,
        component: &Component,
        installed: &[Installation],
    ) -> Result<Vec<(Component, String)>, crate::LedgerError> {
        let others = installed.iter().filter(|i| i.component != component.name);
        let mut rows = Vec::new();
        for place in others {
            if let Ok(row) = alone(self.component_row(&place.component))? {
                rows.push((row, place.position.clone()));
            }
        }
        Ok(rows)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_hand_is_read_from_words_and_not_from_letters_in_them() {
        assert_eq!(hand("left rear"), Some("left"));
        assert_eq!(hand("RH"), Some("right"));
        assert_eq!(hand("cylinder 1"), None);
        assert_eq!(hand("roller"), None);
    }
}
