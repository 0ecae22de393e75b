//! A gallon is two things: 3.785 412 E-03 m3 in the United States and 4.546 09 E-03 m3 in Canada and the United
//! Kingdom (NIST SP 811, appendix B.8). Where people use both, `gal` alone is asked back.

use super::built;
use cotterpin_engine::ir::{Kind, Rules};
use cotterpin_engine::project::read_quantity;

/// The seven figures that the publication prints, in cubic metres.
const US: f64 = 3.785_412e-3;
const IMPERIAL: f64 = 4.546_09e-3;

/// What is read of a fact of the common pack: its worth, in cubic metres or those in a second, or what is said of it.
fn read(rules: &Rules, name: &str, text: &str) -> Result<f64, String> {
    let fact = rules.fact(rules.fact_by_name[name]).expect("a fact");
    let Kind::Number(dimension) = fact.kind else { panic!("{name} is a quantity") };
    let read = read_quantity(rules, (fact, name), text, dimension).map_err(|why| why.to_string())?;
    Ok(read.value.range.as_point().expect("one value").to_f64_below())
}

fn near(found: Result<f64, String>, wanted: f64, text: &str) {
    let found = found.unwrap_or_else(|why| panic!("{text}: {why}"));
    assert!(((found - wanted) / wanted).abs() < 5e-7, "{text}: {found}, not {wanted}");
}

const BURN: &str = "engine.takeoff_consumption";
const FLOW: &str = "fuel.flow_test.rate";

#[test]
fn outside_the_united_states_a_gallon_is_asked_back_with_both_readings() {
    for country in ["ca", "uk", "au", "nz"] {
        let rules = built(&[country]);
        for (text, us, imperial) in [
            ("12 gal/h", "12 usgal/h", "12 impgal/h"),
            ("12 GAL/H", "12 usgal/h", "12 impgal/h"),
            ("12 gph", "12 usgal/h", "12 impgal/h"),
            ("12 gallons per hour", "12 usgal per hour", "12 impgal per hour"),
            ("0.2 gpm", "0.2 usgal/min", "0.2 impgal/min"),
            ("12 gal/h ± 0.2 gal/h", "12 usgal/h ± 0.2 usgal/h", "12 impgal/h ± 0.2 impgal/h"),
            ("11 to 12 gal/h", "11 usgal/h to 12 usgal/h", "11 impgal/h to 12 impgal/h"),
            ("at least 12 gal/h", "at least 12 usgal/h", "at least 12 impgal/h"),
        ] {
            let why = read(&rules, BURN, text).expect_err(text);
            let strict = |reading: &str| reading.replace(" per hour", "/h");
            let wanted = format!("write {} or {}", strict(us), strict(imperial));
            assert!(why.contains(&wanted), "{country}, {text}: {why}");
        }
    }
}

#[test]
fn a_gallon_that_says_which_is_taken_everywhere() {
    for country in ["ca", "uk", "au", "nz", "us"] {
        let rules = built(&[country]);
        for text in ["12 usgal/h", "12 US gal/h", "12 us gal per hour", "12 US gallons per hour", "12 U.S. gal/h"] {
            near(read(&rules, BURN, text), 12.0 * US / 3600.0, text);
        }
        for text in
            ["12 impgal/h", "12 imp gal/h", "12 Imp. gal/h", "12 imperial gal/h", "12 imperial gallons per hour"]
        {
            near(read(&rules, BURN, text), 12.0 * IMPERIAL / 3600.0, text);
        }
        near(read(&rules, BURN, "45 L/h"), 45.0e-3 / 3600.0, "45 L/h");
        // No gallon is none of either.
        assert_eq!(read(&rules, FLOW, "0 gal/h"), Ok(0.0), "{country}");
    }
}

#[test]
fn in_the_united_states_a_gallon_is_theirs() {
    for packs in [["us"], ["fuel-and-fluids"]] {
        let rules = built(&packs);
        near(read(&rules, BURN, "12 gal/h"), 12.0 * US / 3600.0, "12 gal/h");
        near(read(&rules, BURN, "12 gph"), 12.0 * US / 3600.0, "12 gph");
    }
}
