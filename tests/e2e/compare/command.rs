//! The commands `compare` and `compare-unit`.

use super::engine;
use ringland_tests::ringland;

#[tokio::test(flavor = "multi_thread")]
async fn the_commands_say_what_a_builder_asks() {
    let (server, _clients, shop, _) = engine().await;
    let file = server.folder().join("liner.toml");
    let text = "label = \"smoother\"\n[surfaces.bore.properties]\nrq_m = 0.2e-6\n";
    std::fs::write(&file, text).expect("a file");
    let say = |arguments: &[&str]| ringland(&server, arguments).or_fail();
    let profile = format!("--profile={}", shop.profile);
    let with_file = format!("--with={}", file.display());
    let said = say(&[
        "compare",
        &shop.component,
        "--with=plateau-hone",
        &with_file,
        &profile,
        "--part-price=400",
        "--labour-price=900",
        "--treatment-price=plateau-hone=180",
    ]);
    for part in [
        "as it is",
        "plateau hone",
        "smoother",
        "life, events",
        "comes first",
        "time to seat",
        "friction power",
        "an event costs",
        "Readings over time",
        "Verdict",
        "nothing of this shop proves it",
        "Cautions",
    ] {
        assert!(said.contains(part), "{part} is missing from\n{said}");
    }
    let unit = say(&[
        "compare-unit",
        &shop.unit,
        "--try=ring_pack=plateau-hone",
        &profile,
    ]);
    for part in [
        "first of the unit",
        "What moves the earliest limit",
        "plateau hone on ring pack",
        "Verdict",
        "independently",
    ] {
        assert!(unit.contains(part), "{part} is missing from\n{unit}");
    }
    println!("{said}\n{unit}");
}
