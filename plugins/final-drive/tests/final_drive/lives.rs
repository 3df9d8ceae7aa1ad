//! Lives over the default event, as the read-me quotes them.

use ringland_plugin_final_drive::FinalDrive;
use ringland_plugin_final_drive::card::{mechanism, slot};
use ringland_trials::print_lives;

use crate::pairs;

#[test]
fn lives_of_the_default_pair() {
    let plain = pairs::prepared(pairs::hypoid());
    let specimen = plain.specimen.clone();
    let spec = ringland_plugin_final_drive::spec::Spec::read(&specimen).unwrap();
    let gears = ringland_plugin_final_drive::gears::Gears::new(&spec).unwrap();
    println!("{:?}", gears.flanks[0].cylinders);
    println!(
        "{:?}",
        ringland_plugin_final_drive::strength::Strength::new(&spec, &gears, 1.0)
    );
    print_lives::<FinalDrive>("hypoid", &plain, &pairs::event());
    let _ = (mechanism::COUNT, slot::COUNT);
}
