//! Reads the small data sets of `tests/data`.

// Each test file takes what it needs of this one.
#![allow(dead_code)]

use ringland_mechanics::statistics::Life;
use ringland_mechanics::statistics::counts::Recurrences;

/// Rows of a comma-separated text with `#` comments and one heading.
pub fn rows(text: &str) -> Vec<Vec<&str>> {
    text.lines()
        .filter(|line| !line.starts_with('#') && !line.is_empty())
        .skip(1)
        .map(|line| line.split(',').collect())
        .collect()
}

/// Lives from two columns: age, and 1 for failed.
pub fn lives(text: &str, age: usize, failed: usize) -> Vec<Life> {
    let life = |row: &Vec<&str>| Life {
        age: row[age].parse().unwrap(),
        failed: row[failed] == "1",
    };
    rows(text).iter().map(life).collect()
}

/// Failures by unit, from columns row, unit, age, and 0 for the end of observation.
pub fn recurrences(text: &str) -> Vec<Recurrences> {
    let rows = rows(text);
    let unit = |rows: &[Vec<&str>]| {
        let ages = |status| {
            let chosen = rows.iter().filter(move |row| row[3] == status);
            chosen.map(|row| row[2].parse::<f64>().unwrap())
        };
        Recurrences {
            ages: ages("1").collect(),
            end: ages("0").next().unwrap(),
        }
    };
    rows.chunk_by(|a, b| a[1] == b[1]).map(unit).collect()
}

/// Fails unless the numbers agree within the relative tolerance.
pub fn assert_close(found: f64, expected: f64, relative: f64) {
    assert!(
        (found - expected).abs() <= relative * expected.abs(),
        "found {found}, expected {expected} within {relative} of it"
    );
}
