//! Alarms of the logs that nobody has looked into since.

use crate::{
    Installation, LedgerError, Overriding, UnitName,
    ledger::{DutyRow, Ledger, record_key, record_prefix},
    rows,
};
use jiff::{SignedDuration, Timestamp};
use ringland_host::contract::DutyTable;
use ringland_store::Table;
use std::collections::BTreeMap;

/// Kinds of shock that stop an engine until someone has looked: low oil pressure, overheating, detonation (common
/// practice, no source).
const ALARMS: [(&str, &str); 3] = [
    ("oil_pressure_dip", "oil pressure below the limit"),
    ("oil_overheat", "oil above its temperature limit"),
    ("knock_burst", "knock"),
];
/// Shorter than this together is no alarm. Assumed, as the bearing's model takes it.
const LEAST_S: f64 = 1.0;
const PAGE: usize = 100;

/// What a kind has come to since the last look.
#[derive(Default)]
struct Open {
    count: usize,
    duration_s: f64,
    last: Option<String>,
}

/// A part, the kinds that its model reads, and when it was last looked at.
struct Watched {
    installation: Installation,
    kinds: Vec<String>,
    looked: Timestamp,
}

impl Ledger {
    /// Alarms in the logs of a unit since the parts that they concern were installed or inspected. A look at one of
    /// them is enough: which one is the builder's choice.
    pub(super) fn open_alarms(
        &self,
        unit: &UnitName,
        installed: &[Installation],
    ) -> Result<Vec<Overriding>, LedgerError> {
        let watched = self.watched(installed)?;
        let Some(from) = watched.iter().map(|w| w.installation.install_time).min() else {
            return Ok(Vec::new());
        };
        let mut open: BTreeMap<&str, Open> = BTreeMap::new();
        let prefix = record_prefix(unit);
        let before = from
            .checked_sub(SignedDuration::from_nanos(1))
            .unwrap_or(Timestamp::MIN);
        let mut after = record_key(unit, before);
        loop {
            let page = self.store.scan(Table::Duty, &prefix, Some(&after), PAGE)?;
            let Some((last, _)) = page.last() else { break };
            after.clone_from(last);
            for (_, bytes) in &page {
                let row: DutyRow = rows::decode(bytes)?;
                self.add_alarms(&row, &watched, &mut open)?;
            }
        }
        let told = open.iter().filter(|(_, open)| open.duration_s >= LEAST_S);
        Ok(told
            .map(|(kind, open)| told_of(kind, open, &watched))
            .collect())
    }

    fn add_alarms(
        &self,
        row: &DutyRow,
        watched: &[Watched],
        open: &mut BTreeMap<&str, Open>,
    ) -> Result<(), LedgerError> {
        let record = &row.record;
        let mut table: Option<DutyTable> = None;
        for (kind, _) in &ALARMS {
            let concerned: Vec<&Watched> = concerned(watched, kind)
                .filter(|w| w.installation.holds_at(record.start_time))
                .collect();
            let seen = concerned.iter().any(|w| w.looked >= record.end_time);
            if concerned.is_empty() || seen {
                continue;
            }
            let table = match &mut table {
                Some(table) => table,
                empty => empty.insert(self.duty_table(&record.unit, record.start_time)?),
            };
            let shocks = table.shocks.iter().filter(|shocks| shocks.kind == *kind);
            for shocks in shocks {
                let field = shocks.fields.iter().position(|name| name == "duration_s");
                let durations = field.and_then(|index| shocks.columns.get(index));
                let durations = durations.map(Vec::as_slice).unwrap_or_default();
                if durations.is_empty() {
                    continue;
                }
                let known = open.entry(kind).or_default();
                known.count += durations.len();
                known.duration_s += durations.iter().sum::<f64>();
                known.last = Some(record.name.to_string());
            }
        }
        Ok(())
    }

    fn watched(&self, installed: &[Installation]) -> Result<Vec<Watched>, LedgerError> {
        let each = |installation: &Installation| {
            let component = self.component_row(&installation.component)?;
            let kinds = match self.active(&component.component_type)? {
                Some(plugin) => {
                    let card = self.card(plugin)?;
                    card.duty
                        .shocks
                        .iter()
                        .map(|need| need.kind.clone())
                        .collect()
                }
                None => Vec::new(),
            };
            Ok(Watched {
                kinds,
                looked: self.last_look(&installation.component)?,
                installation: installation.clone(),
            })
        };
        installed.iter().map(each).collect()
    }

    fn last_look(&self, component: &crate::ComponentName) -> Result<Timestamp, LedgerError> {
        let mut last = Timestamp::MIN;
        for bytes in self.inspection_rows(component)? {
            let inspection: crate::Inspection = rows::decode(&bytes)?;
            last = last.max(inspection.inspection_time);
        }
        Ok(last)
    }
}

/// The parts whose models read a kind; where none does, all.
fn concerned<'a>(watched: &'a [Watched], kind: &'a str) -> impl Iterator<Item = &'a Watched> {
    let reads = move |w: &Watched| w.kinds.iter().any(|other| other == kind);
    let any = watched.iter().any(reads);
    watched.iter().filter(move |w| !any || reads(w))
}

fn told_of(kind: &str, open: &Open, watched: &[Watched]) -> Overriding {
    let label = ALARMS.iter().find(|(name, _)| *name == kind);
    let label = label.map_or(kind, |(_, label)| *label);
    let parts = concerned(watched, kind).map(|w| w.installation.component.component());
    let parts: Vec<&str> = parts.take(6).collect();
    Overriding {
        component: None,
        text: format!(
            "open alarm: {label} {} times, {:.1} s together, last in {}, and none of the parts that it concerns has been \
             inspected since",
            open.count,
            open.duration_s,
            open.last.as_deref().unwrap_or("an earlier log"),
        ),
        closes: format!(
            "An inspection of one of them ends this: {}.",
            parts.join(", ")
        ),
    }
}
