//! A file for `component create`, written from a model's card.

use ringland_proto::v1::{Card, ChoiceField, NumberField, SurfaceField, TableField};
use std::fmt::Write;

/// Width at which comments wrap.
const WIDTH: usize = 96;

/// Every input as a comment with its unit, range and default: what is left so takes the default.
pub(super) fn template(card: &Card) -> String {
    let mut text = format!(
        "# {}, model {}. Numbers are SI.\n# Take the # away from what you know; the rest takes the model's default.\n\n\
         component_type = \"{}\"\nserial = \"\"\n\
         # Treatments that were done, in their order, by their ids in `ringland treatment list`\ntreatments = []\n",
        card.label, card.version, card.component_type
    );
    section(&mut text, "spec.numbers", card.numbers.iter().map(number));
    section(&mut text, "spec.choices", card.choices.iter().map(choice));
    for field in &card.tables {
        text.push_str(&table(field));
    }
    for surface in &card.surfaces {
        text.push_str(&surface_section(surface));
    }
    text
}

fn section(text: &mut String, title: &str, entries: impl Iterator<Item = String>) {
    let entries: String = entries.collect();
    if !entries.is_empty() {
        // Writing to a string cannot fail.
        let _ = write!(text, "\n[{title}]\n{entries}");
    }
}

fn number(field: &NumberField) -> String {
    let unit = if field.unit == "1" {
        String::new()
    } else {
        format!(" {}", field.unit)
    };
    let range = format!("{:?} to {:?}{unit}", field.minimum, field.maximum);
    let about = comment(&format!("{}, {range}. {}", field.label, field.note));
    format!("{about}# {} = {:?}\n", field.name, field.default_value)
}

fn choice(field: &ChoiceField) -> String {
    let options: Vec<String> = field
        .options
        .iter()
        .map(|option| format!("{} ({})", option.name, option.label))
        .collect();
    let about = comment(&format!(
        "{}: {}. {}",
        field.label,
        options.join(", "),
        field.note
    ));
    format!("{about}# {} = \"{}\"\n", field.name, field.default_option)
}

fn table(field: &TableField) -> String {
    let columns: Vec<String> = field
        .columns
        .iter()
        .map(|c| {
            format!(
                "{} in {} ({:?} to {:?})",
                c.label, c.unit, c.minimum, c.maximum
            )
        })
        .collect();
    let rows = format!("{} to {} rows", field.minimum_rows, field.maximum_rows);
    let about = comment(&format!(
        "{}, {rows}; columns: {}. {}",
        field.label,
        columns.join("; "),
        field.note
    ));
    let entries = "# columns = [{ values = [] }, { values = [] }]\n";
    format!("\n{about}# [spec.tables.{}]\n{entries}", field.name)
}

fn surface_section(surface: &SurfaceField) -> String {
    let about = comment(&format!("{}. {}", surface.label, surface.note));
    let properties: String = surface.properties.iter().map(number).collect();
    let mut text = format!(
        "\n{about}[surfaces.{}.properties]\n{properties}",
        surface.name
    );
    if surface.residual_stress {
        let _ = write!(
            text,
            "# Residual stress over depth, tension positive.\n# [surfaces.{}.residual_stress]\n\
             # depth_m = [0.0, 20e-6, 100e-6]\n# stress_pa = [-400e6, -700e6, 0.0]\n",
            surface.name
        );
    }
    text
}

fn comment(text: &str) -> String {
    let options = textwrap::Options::new(WIDTH)
        .initial_indent("# ")
        .subsequent_indent("# ");
    textwrap::fill(text.trim_end_matches([' ', '.']), options) + "\n"
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::json::from_toml;
    use ringland_proto::v1::{ChoiceOption, Component};

    fn card() -> Card {
        let bore = NumberField {
            name: "bore_m".into(),
            label: "cylinder bore".into(),
            unit: "m".into(),
            minimum: 0.05,
            maximum: 0.2,
            default_value: 0.086,
            note: "bore gauge, at the torque plate".into(),
        };
        let face = ChoiceField {
            name: "face".into(),
            label: "top ring face".into(),
            options: vec![
                ChoiceOption {
                    name: "nitrided".into(),
                    label: "gas nitrided steel".into(),
                },
                ChoiceOption {
                    name: "moly".into(),
                    label: "plasma molybdenum".into(),
                },
            ],
            default_option: "nitrided".into(),
            note: String::new(),
        };
        let liner = SurfaceField {
            name: "liner".into(),
            label: "cylinder liner".into(),
            properties: vec![NumberField {
                name: "rq_m".into(),
                default_value: 3e-7,
                ..bore.clone()
            }],
            residual_stress: true,
            note: String::new(),
        };
        Card {
            component_type: "ring_pack".into(),
            label: "Ring pack".into(),
            version: "1.2.3".into(),
            numbers: vec![bore],
            choices: vec![face],
            surfaces: vec![liner],
            ..Default::default()
        }
    }

    #[test]
    fn as_printed_it_takes_every_default() {
        let text = template(&card());
        let component: Component = from_toml("Component", &text).unwrap();
        assert_eq!(component.component_type, "ring_pack");
        assert!(component.spec.unwrap().numbers.is_empty());
        assert!(
            text.contains("cylinder bore, 0.05 to 0.2 m. bore gauge"),
            "{text}"
        );
    }

    #[test]
    fn with_the_marks_taken_away_it_says_every_default() {
        let text = template(&card());
        let is_entry = |line: &str| line.starts_with("# [") || line.contains(" = ");
        let uncommented: String = text
            .lines()
            .map(|line| {
                if is_entry(line) {
                    line.trim_start_matches("# ")
                } else {
                    line
                }
            })
            .fold(String::new(), |all, line| all + line + "\n");
        let component: Component = from_toml("Component", &uncommented).unwrap();
        let spec = component.spec.unwrap();
        assert!((spec.numbers["bore_m"] - 0.086).abs() < 1e-12);
        assert_eq!(spec.choices["face"], "nitrided");
        assert!((component.surfaces["liner"].properties["rq_m"] - 3e-7).abs() < 1e-15);
        assert_eq!(
            component.surfaces["liner"]
                .residual_stress
                .as_ref()
                .unwrap()
                .depth_m
                .len(),
            3
        );
    }
}
