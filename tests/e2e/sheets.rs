//! Sheets from the command line, against a real server: what they say, in both forms and both systems of units.

use ringland_proto::v1::{
    Build, BuildSheetLine, Inspection, MeasuredReading, RecordInspectionRequest, Unit,
    UpdateBuildRequest, UpdateUnitRequest,
};
use ringland_tests::{Clients, Server, Shop, at, lap_csv, plugin, program, record_csv};
use std::{fs, path::Path, process::Command};

fn run(server: &Server, arguments: &[&str]) -> (bool, String) {
    let output = Command::new(program("ringland"))
        .arg(format!("--server={}", server.url))
        .args(arguments)
        .output()
        .expect("the command runs");
    let text = String::from_utf8_lossy(&output.stdout) + String::from_utf8_lossy(&output.stderr);
    (output.status.success(), text.into_owned())
}

/// A sheet's text.
fn page(server: &Server, folder: &Path, arguments: &[&str]) -> String {
    let file = folder.join("sheet.html");
    let out = format!("--out={}", file.display());
    let mut all = vec!["sheet"];
    all.extend(arguments);
    all.extend(["--date=2026-03-02", out.as_str()]);
    let (done, said) = run(server, &all);
    assert!(done, "{said}");
    fs::read_to_string(file).expect("the page")
}

/// A shop whose rings have raced, with two lines on the build sheet of which one lacks its instrument.
async fn raced(clients: &mut Clients) -> Shop {
    let shop = Shop::open(clients, "a").await.expect("the shop opens");
    record_csv(clients, &shop.unit, "race", at(10 * 3600), &lap_csv(1200))
        .await
        .expect("a race");
    let line = |item: &str, instrument: &str| BuildSheetLine {
        item: item.into(),
        value: 4.1e-4,
        unit: "m".into(),
        instrument: instrument.into(),
        instrument_sd: 1e-5,
        temperature_k: Some(293.15),
        measured_by: "builder".into(),
    };
    let update = UpdateBuildRequest {
        build: Some(Build {
            name: shop.build.clone(),
            build_sheet: vec![
                line("end_gap_top_cylinder_1", "feeler gauge"),
                line("end_gap_top_cylinder_2", ""),
            ],
            ..Default::default()
        }),
        update_mask: Some(prost_types::FieldMask {
            paths: vec!["build_sheet".into()],
        }),
    };
    clients.builds.update_build(update).await.expect("updated");
    // A life card needs to know what an event is.
    let unit = UpdateUnitRequest {
        unit: Some(Unit {
            name: shop.unit.clone(),
            event_profile: shop.profile.clone(),
            ..Default::default()
        }),
        update_mask: Some(prost_types::FieldMask {
            paths: vec!["event_profile".into()],
        }),
    };
    clients.units.update_unit(unit).await.expect("updated");
    shop
}

/// One event to come, and what new rings cost.
fn calendar_of(profile: &str) -> String {
    format!(
        r#"labour_rate_per_h = 80

[[events]]
code = "R1"
start_time = "2026-04-04T08:00:00Z"
profile = "{profile}"
severity = 2
race = true

[[opportunities]]
after_event = ""

[[levels]]
name = "strip"
labour_min = 600

[[parts]]
component_type = "ring_pack"
price = 320
level = "strip"
stock = 1

[[checks]]
component_type = "ring_pack"
check = "end_gap_m"
minutes = 90
instrument = "feeler gauge"

[failure_costs]
power_loss = 600
unit_loss = 20000
hazard = 20000
did_not_finish = 4500
"#
    )
}

/// On every sheet: who comes first, and no word that a part is safe.
fn heeds(page: &str) {
    assert!(
        page.contains(
            "Limits of the part&#39;s maker and rules of the sanctioning body come first"
        )
    );
    assert!(!page.to_lowercase().contains("is safe"));
}

#[tokio::test(flavor = "multi_thread")]
async fn every_sheet_says_what_the_ledger_has() {
    let server = Server::start(&[&plugin("ringland-plugin-ring-pack")]).await;
    let mut clients = server.clients().await;
    let shop = raced(&mut clients).await;
    let unit = shop.unit.trim_start_matches("units/").to_owned();
    let folder = tempfile::tempdir().expect("a folder");
    let folder = folder.path();

    let build = page(&server, folder, &["build", &unit]);
    heeds(&build);
    assert!(build.contains("end gap top cylinder 1") && build.contains("feeler gauge"));
    assert!(build.contains("end gap top cylinder 2: the instrument is not written"));
    assert!(
        build.contains("16.14 thou\n0.410 mm"),
        "both units: {build}"
    );
    let si = page(&server, folder, &["build", &unit, "--units=si"]);
    assert!(!si.contains(" thou") && si.contains("0.410 mm"));

    let card = page(&server, folder, &["life-card", &unit]);
    heeds(&card);
    let predicted = shop.predict(&mut clients).await.expect("a prediction");
    assert!(card.contains("ring pack"), "{card}");
    assert!(card.contains("median (5 % to 95 %)"), "{card}");
    for caution in &predicted.cautions {
        let plain = caution.replace('\'', "&#39;");
        assert!(card.contains(&plain), "{plain}");
    }

    let checks = page(&server, folder, &["check-list", &unit]);
    heeds(&checks);
    let gap = predicted.readings.iter().find(|r| r.reading == "end_gap_m");
    let gap = gap.expect("the gap");
    assert!(checks.contains(&gap.label) && checks.contains("at most"));

    let calendar = folder.join("calendar.toml");
    fs::write(&calendar, calendar_of(&shop.profile)).expect("written");
    let calendar = calendar.display().to_string();
    let (done, said) = run(&server, &["plan", "calendar", "put", "short", &calendar]);
    assert!(done, "{said}");
    let arguments = [
        "override",
        "record",
        &shop.unit,
        "--advice=measure the rings first",
        "--decision=runs anyway",
        "--by=owner",
        "--reason=last race of the year",
        "--at=2026-03-02T08:00:00Z",
    ];
    let (done, said) = run(&server, &arguments);
    assert!(done, "{said}");
    let ordered = page(&server, folder, &["check-list", &unit, "--calendar=short"]);
    heeds(&ordered);
    assert!(ordered.contains("best first (calendar short)"), "{ordered}");
    // Rings that have raced once are not worth a look; what fits and what does not is tested beside the code.
    assert!(ordered.contains("No look that the calendar names would change what is done"));
    assert!(ordered.contains("Expected cost"), "{ordered}");
    assert!(ordered.contains("by owner: runs anyway (because: last race of the year)"));
    let short = ["check-list", &unit, "--calendar=short", "--minutes=30"];
    let short = page(&server, folder, &short);
    heeds(&short);
    assert!(short.contains("These take 0 of 30.0 min"), "{short}");
    let out = format!("--out={}", folder.join("none.html").display());
    let (done, said) = run(
        &server,
        &["sheet", "check-list", &unit, "--minutes=30", &out],
    );
    assert!(!done && said.contains("--calendar"), "{said}");

    let blank = page(&server, folder, &["teardown", &unit]);
    heeds(&blank);
    assert!(!blank.contains("error of"), "nothing was measured yet");
    let now = gap.now.expect("quantiles").p50;
    let measured = MeasuredReading {
        reading: "end_gap_m".into(),
        value: now + 2e-5,
        instrument: "feeler gauge".into(),
        instrument_sd: Some(1e-5),
        ..Default::default()
    };
    let request = RecordInspectionRequest {
        inspection: Some(Inspection {
            component: predicted.component.clone(),
            inspection_time: Some(at(30 * 3600)),
            inspected_by: "builder".into(),
            readings: vec![measured],
            ..Default::default()
        }),
        ..Default::default()
    };
    clients
        .inspections
        .record_inspection(request)
        .await
        .expect("recorded");
    let sheet = page(&server, folder, &["teardown", &unit]);
    heeds(&sheet);
    assert!(sheet.contains("expected at the model&#39;s own rate"));
    assert!(sheet.contains("feeler gauge; temperature not told; builder; 2026-03-02"));
    let band = gap.now.expect("quantiles");
    let outside = sheet.contains("OUTSIDE what was predicted");
    assert_eq!(
        outside,
        now + 2e-5 > band.p95,
        "{} {}",
        now + 2e-5,
        band.p95
    );

    let prices = folder.join("prices.toml");
    fs::write(&prices, "ring_pack = -1.0\n").expect("written");
    let file = folder.join("review.pdf");
    let review = |prices: &Path| {
        let arguments = [
            "sheet".to_owned(),
            "season".into(),
            "--date=2026-11-01".into(),
            format!("--prices={}", prices.display()),
            format!("--out={}", file.display()),
        ];
        run(&server, &arguments.each_ref().map(String::as_str))
    };
    let (done, said) = review(&prices);
    assert!(!done && said.contains("ring_pack = -1"), "{said}");
    fs::write(&prices, "rign_pack = 320.0\n").expect("written");
    let (done, said) = review(&prices);
    assert!(!done, "{said}");
    assert!(
        said.contains("rign_pack") && said.contains("one of ring_pack"),
        "{said}"
    );
    fs::write(&prices, "ring_pack = 320.0\n").expect("written");
    let (done, said) = review(&prices);
    assert!(done, "{said}");
    let first = fs::read(&file).expect("the file");
    assert!(first.starts_with(b"%PDF-"));
    assert!(review(&prices).0);
    assert_eq!(first, fs::read(&file).expect("the file"), "the same again");
    let text = page(&server, folder, &["season", &unit]);
    heeds(&text);
    assert!(text.contains("Predicted and found") && text.contains("end gap"));
    assert!(
        text.contains("of 1 inside the 90 % band: too few to say"),
        "{text}"
    );
    assert!(
        text.contains("so nothing is proven of them: ring pack"),
        "{text}"
    );

    let (done, said) = run(&server, &["sheet", "build", &unit, "--out=sheet.doc"]);
    assert!(!done && said.contains("ending in .html or .pdf"), "{said}");
}
