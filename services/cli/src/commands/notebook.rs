//! Lives and replacements out of the shop's notebook: CSV with named columns, `#` starting comments.

use crate::CliError;
use ringland_proto::v1::{GivenReplacements, ObservedLife, RepairedUnit};
use serde::{Deserialize, de::DeserializeOwned};
use std::{collections::BTreeMap, path::Path};

#[derive(Deserialize)]
struct LifeRow {
    age: f64,
    ended: u8,
    #[serde(default)]
    part: String,
    #[serde(default)]
    group: String,
    #[serde(default)]
    unit: String,
}

#[derive(Deserialize)]
struct ReplacementRow {
    unit: String,
    age: f64,
    replaced: u8,
}

/// Lives from columns `age`, `ended` and, where they are known, `part`, `group`, `unit`.
pub(super) fn lives(file: &Path) -> Result<Vec<ObservedLife>, CliError> {
    let rows: Vec<LifeRow> = rows(file)?;
    let life = |row: LifeRow| {
        Ok(ObservedLife {
            part: row.part,
            age: row.age,
            ended: yes(file, "ended", row.ended)?,
            group: row.group,
            unit: row.unit,
        })
    };
    rows.into_iter().map(life).collect()
}

/// Replacements from columns `unit`, `age`, `replaced`: 0 marks the age when the unit was last seen.
pub(super) fn replacements(file: &Path, age_unit: String) -> Result<GivenReplacements, CliError> {
    let mut units: BTreeMap<String, RepairedUnit> = BTreeMap::new();
    for row in rows::<ReplacementRow>(file)? {
        let unit = units
            .entry(row.unit.clone())
            .or_insert_with(|| RepairedUnit {
                unit: row.unit.clone(),
                ..Default::default()
            });
        if yes(file, "replaced", row.replaced)? {
            unit.ages.push(row.age);
        } else {
            unit.end = row.age;
        }
    }
    if let Some(unit) = units.values().find(|unit| unit.end == 0.0) {
        return Err(CliError::Usage(format!(
            "{}: unit {:?} has no row with replaced = 0, which says when it was last seen",
            file.display(),
            unit.unit
        )));
    }
    Ok(GivenReplacements {
        units: units.into_values().collect(),
        age_unit,
    })
}

fn yes(file: &Path, column: &str, value: u8) -> Result<bool, CliError> {
    match value {
        0 => Ok(false),
        1 => Ok(true),
        other => Err(CliError::Usage(format!(
            "{}: {column} is {other}; expected 1 or 0",
            file.display()
        ))),
    }
}

fn rows<T: DeserializeOwned>(file: &Path) -> Result<Vec<T>, CliError> {
    let mut reader = csv::ReaderBuilder::new()
        .comment(Some(b'#'))
        .trim(csv::Trim::All)
        .from_path(file)
        .map_err(|error| unusable(file, &error))?;
    let rows = reader.deserialize().collect::<Result<Vec<T>, _>>();
    rows.map_err(|error| unusable(file, &error))
}

fn unusable(file: &Path, error: &csv::Error) -> CliError {
    CliError::Usage(format!("{}: {error}", file.display()))
}

#[cfg(test)]
mod tests {
    use super::*;
    use std::io::Write;

    fn file(text: &str) -> tempfile::NamedTempFile {
        let mut file = tempfile::NamedTempFile::new().unwrap();
        file.write_all(text.as_bytes()).unwrap();
        file
    }

    #[test]
    fn lives_are_read_by_the_names_of_columns() {
        let text = "# notebook\nended,age,group\n1,12.5,peened\n0, 30 ,\n";
        let read = lives(file(text).path()).unwrap();
        assert_eq!(
            (read[0].age, read[0].ended, read[0].group.as_str()),
            (12.5, true, "peened")
        );
        assert_eq!((read[1].age, read[1].ended), (30.0, false));
        for wrong in ["age\n1\n", "age,ended\n1,2\n", "age,ended\nx,1\n"] {
            assert!(lives(file(wrong).path()).is_err(), "{wrong}");
        }
    }

    #[test]
    fn every_unit_says_when_it_was_last_seen() {
        let text = "unit,age,replaced\na,10,1\na,10,1\na,20,0\nb,5,0\n";
        let read = replacements(file(text).path(), "h".into()).unwrap();
        assert_eq!(read.units[0].ages, [10.0, 10.0]);
        assert_eq!((read.units[0].end, read.units[1].end), (20.0, 5.0));
        let open = file("unit,age,replaced\na,10,1\n");
        let error = replacements(open.path(), "h".into()).unwrap_err();
        assert!(error.to_string().contains("last seen"), "{error}");
    }
}
