use super::*;
use crate::{Block, Cell, Column, Fact, Range, Section, Table};
use lopdf::Document;

fn sheet(rows: usize) -> Sheet {
    let spread = Range {
        low: 1.0,
        middle: 2.0,
        high: 4.0,
        limit: Some(5.0),
        measured: Some(3.0),
    };
    let row = |number: usize| {
        vec![
            Cell::Text(format!("row{number}")),
            Cell::Strong("0.46 (0.40 to 0.52) mm".into()),
            Cell::Range(spread),
            Cell::Write,
        ]
    };
    let table = Table {
        columns: vec![
            Column::left("reading", 2.0),
            Column::right("expected", 1.5),
            Column::left("spread", 1.0),
            Column::left("measured", 1.0),
        ],
        rows: (0..rows).map(row).collect(),
    };
    Sheet {
        title: "Teardown sheet".into(),
        subject: "Engine A".into(),
        made: "2026-04-18".into(),
        facts: vec![Fact::new("build", "a-1")],
        sections: vec![
            Section::new("Measured", vec![Block::Table(table)]),
            Section::new(
                "Notes",
                vec![Block::Alarm("Crack found.".into()), Block::Lines(3)],
            ),
        ],
        cautions: vec!["The maker's limits come first.".into()],
        signatures: vec!["engine builder".into()],
        ..Sheet::default()
    }
}

fn text_of(bytes: &[u8]) -> (usize, Vec<String>) {
    let document = Document::load_mem(bytes).expect("a file that another library reads");
    let pages: Vec<u32> = document.get_pages().into_keys().collect();
    let texts = pages
        .iter()
        .map(|page| document.extract_text(&[*page]).expect("text"));
    (pages.len(), texts.collect())
}

#[test]
fn another_library_reads_every_row_once_and_the_head_on_each_page() {
    let bytes = pdf(&sheet(90), Paper::A4).unwrap();
    let (count, texts) = text_of(&bytes);
    assert!(count > 2, "{count} pages");
    let all = texts.join("\n");
    for row in 0..90 {
        let name = format!("row{row}");
        let found = all.split_whitespace().filter(|word| *word == name).count();
        assert_eq!(found, 1, "{name}");
    }
    let with_rows = texts.iter().filter(|text| text.contains("row"));
    for text in with_rows {
        assert!(text.contains("expected"), "the head: {text}");
    }
    for (index, text) in texts.iter().enumerate() {
        let foot = format!("page {} of {count}", index + 1);
        assert!(text.contains(&foot), "{foot}");
    }
    assert!(all.contains("The maker's limits come first.") && all.contains("Crack found."));
}

#[test]
fn many_cautions_run_over_pages_and_none_is_lost() {
    let many: Vec<String> = (0..400)
        .map(|n| format!("heed{n} before anything else"))
        .collect();
    let long = Sheet {
        cautions: many,
        ..sheet(2)
    };
    let (count, texts) = text_of(&pdf(&long, Paper::A4).unwrap());
    assert!(count >= 3, "{count}");
    let all = texts.join("\n");
    for n in 0..400 {
        assert!(all.contains(&format!("heed{n} ")), "{n}");
    }
}

#[test]
fn the_same_sheet_is_the_same_file() {
    let bytes = || pdf(&sheet(3), Paper::Letter).unwrap();
    assert_eq!(bytes(), bytes());
    assert!(bytes().len() < 100_000, "{} bytes", bytes().len());
}

#[test]
fn without_cautions_there_is_no_sheet() {
    let bare = Sheet {
        cautions: Vec::new(),
        ..sheet(1)
    };
    assert!(matches!(
        pdf(&bare, Paper::A4),
        Err(SheetError::NoCautions { .. })
    ));
}
