//! Units against NIST SP 811 and against the library `uom`.

use cotterpin_lang::quantity::{Dimension, Exact, ExactInterval, Quantity, Truth, Unit, UnitError};
use uom::si::f64 as si;
use uom::si::*;

fn exact(text: &str) -> Exact {
    Exact::parse(text).expect(text)
}

fn unit(symbol: &str) -> Unit {
    Unit::parse(symbol).expect(symbol)
}

fn range(text: &str) -> ExactInterval {
    Quantity::parse(text).expect(text).range
}

/// NIST Special Publication 811 (2008), appendix B.8, with the seven figures
/// printed there. Typed from memory of the publication; `uom`, which quotes the
/// same appendix, is compared on its own below.
const SP_811: [(&str, &str); 38] = [
    ("ft", "3.048e-01"),
    ("in", "2.54e-02"),
    ("yd", "9.144e-01"),
    ("mi", "1.609344e+03"),
    ("nmi", "1.852e+03"),
    ("lb", "4.535924e-01"),
    ("oz", "2.834952e-02"),
    ("t", "1.0e+03"),
    ("kt", "5.144444e-01"),
    ("mph", "4.4704e-01"),
    ("ft/min", "5.08e-03"),
    ("gn", "9.80665e+00"),
    ("lbf", "4.448222e+00"),
    ("kgf", "9.80665e+00"),
    ("lbf-in", "1.129848e-01"),
    ("lbf-ft", "1.355818e+00"),
    ("psi", "6.894757e+03"),
    ("lbf/ft2", "4.788026e+01"),
    ("inHg", "3.386389e+03"), // "inch of mercury, conventional"
    ("mmHg", "1.333224e+02"), // "millimeter of mercury, conventional"
    ("bar", "1.0e+05"),
    ("mbar", "1.0e+02"),
    ("hp", "7.456999e+02"), // "horsepower (550 ft lbf/s)"
    ("gal", "3.785412e-03"),
    ("impgal", "4.54609e-03"),
    ("qt", "9.463529e-04"),
    ("pt", "4.731765e-04"),
    ("floz", "2.957353e-05"),
    ("L", "1.0e-03"),
    ("in2", "6.4516e-04"),
    ("ft2", "9.290304e-02"),
    ("in3", "1.638706e-05"),
    ("ft3", "2.831685e-02"),
    ("gal/min", "6.309020e-05"),
    ("lb/ft3", "1.601846e+01"),
    ("lb/gal", "1.198264e+02"),
    ("lb/h", "1.259979e-04"),
    ("Ah", "3.6e+03"),
];

#[test]
fn factors_are_nist_sp_811s() {
    for (symbol, printed) in SP_811 {
        let seven = unit(symbol).factor().to_decimal(7);
        assert_eq!(exact(&seven), exact(printed), "{symbol}");
    }
    println!("compared {} factors with NIST SP 811, seven figures each", SP_811.len());
}

#[test]
fn temperatures_are_nist_sp_811s() {
    // SP 811 B.8: T/K = t/degC + 273.15; T/K = (t/degF + 459.67)/1.8.
    let cases = [
        ("0 degC", "273.15 K"),
        ("100 °C", "212 °F"),
        ("-40 degC", "-40 degF"),
        ("0 degF", "2298.35/9 K"),
        ("9 deltaF", "5 deltaC"),
        ("1 deltaC", "1 deltaK"),
    ];
    for (one, other) in cases {
        let other_range = match other.strip_suffix(" K").and_then(|t| t.split_once('/')) {
            Some((over, under)) => ExactInterval::point(exact(over).div(&exact(under)).expect("not zero")),
            None => range(other),
        };
        assert_eq!(range(one).equal(&other_range), Truth::True, "{one} is {other}");
    }
    println!("compared {} temperatures", cases.len());
}

macro_rules! against_uom {
    ($compared:ident, $kind:ident, $module:ident: $($symbol:literal $name:ident),+ $(,)?) => {
        $(
            let theirs = si::$kind::new::<$module::$name>(1.0).value;
            near($symbol, theirs);
            $compared += 1;
        )+
    };
}

/// Seven figures are what `uom` holds of a factor (its source quotes SP 811).
fn near(symbol: &str, theirs: f64) {
    let ours = unit(symbol).to_si(&Exact::one()).to_f64_below();
    let apart = ((ours - theirs) / theirs).abs();
    assert!(apart < 5e-7, "{symbol}: ours {ours}, uom {theirs}");
}

#[test]
fn factors_are_uoms() {
    let mut n = 0;
    against_uom!(n, Length, length: "m" meter, "mm" millimeter, "cm" centimeter, "km" kilometer, "in" inch, "ft" foot, "yd" yard, "mi" mile, "nmi" nautical_mile);
    against_uom!(n, Ratio, ratio: "%" percent);
    against_uom!(n, Mass, mass: "kg" kilogram, "g" gram, "mg" milligram, "t" ton, "lb" pound, "oz" ounce);
    against_uom!(n, Time, time: "s" second, "min" minute, "h" hour, "day" day);
    against_uom!(n, Velocity, velocity: "kt" knot, "mph" mile_per_hour, "m/s" meter_per_second, "km/h" kilometer_per_hour, "ft/s" foot_per_second, "ft/min" foot_per_minute);
    against_uom!(n, Acceleration, acceleration: "gn" standard_gravity, "m/s2" meter_per_second_squared);
    against_uom!(n, Force, force: "N" newton, "kN" kilonewton, "lbf" pound_force, "kgf" kilogram_force);
    against_uom!(n, Torque, torque: "N-m" newton_meter, "Nm" newton_meter, "lbf-ft" pound_force_foot, "lbf-in" pound_force_inch);
    against_uom!(n, Pressure, pressure: "Pa" pascal, "hPa" hectopascal, "kPa" kilopascal, "MPa" megapascal, "bar" bar, "mbar" millibar, "psi" psi, "inHg" inch_of_mercury, "mmHg" millimeter_of_mercury);
    against_uom!(n, Area, area: "m2" square_meter, "cm2" square_centimeter, "in2" square_inch, "ft2" square_foot);
    against_uom!(n, Volume, volume: "m3" cubic_meter, "L" liter, "mL" milliliter, "cm3" cubic_centimeter, "in3" cubic_inch, "ft3" cubic_foot, "gal" gallon, "impgal" gallon_imperial, "qt" quart_liquid, "pt" pint_liquid, "floz" fluid_ounce);
    against_uom!(n, VolumeRate, volume_rate: "gal/min" gallon_per_minute, "L/min" liter_per_minute, "m3/h" cubic_meter_per_hour);
    against_uom!(n, MassRate, mass_rate: "lb/h" pound_per_hour, "kg/s" kilogram_per_second);
    against_uom!(n, ElectricPotential, electric_potential: "V" volt, "mV" millivolt, "kV" kilovolt);
    against_uom!(n, ElectricCurrent, electric_current: "A" ampere, "mA" milliampere);
    against_uom!(n, ElectricCharge, electric_charge: "Ah" ampere_hour);
    against_uom!(n, ElectricalResistance, electrical_resistance: "ohm" ohm, "milliohm" milliohm, "kohm" kiloohm);
    against_uom!(n, Power, power: "W" watt, "kW" kilowatt, "hp" horsepower);
    against_uom!(n, Frequency, frequency: "Hz" hertz, "kHz" kilohertz, "MHz" megahertz, "rpm" cycle_per_minute);
    against_uom!(n, TemperatureInterval, temperature_interval: "deltaC" degree_celsius, "deltaF" degree_fahrenheit, "deltaK" kelvin);
    against_uom!(n, ThermodynamicTemperature, thermodynamic_temperature: "degC" degree_celsius, "degF" degree_fahrenheit, "K" kelvin);
    println!("compared {n} units with uom");
    assert!(n > 80, "{n}");
}

/// Every simple unit, and one composite of each kind the trade writes.
fn all_units() -> Vec<Unit> {
    let composite = [
        "",
        "in2",
        "ft2",
        "m2",
        "cm2",
        "in3",
        "ft3",
        "cm3",
        "m3",
        "gal/h",
        "L/h",
        "gal/min",
        "impgal/h",
        "ohm/1000ft",
        "milliohm/m",
        "ohm/km",
        "lbf-in",
        "lbf-ft",
        "in-lbf",
        "N-m",
        "kgf-m",
        "lb-in",
        "lb-ft",
        "kg-m",
        "kg-mm",
        "kg/m3",
        "lb/gal",
        "kg/L",
        "lb/ft3",
        "m/s",
        "km/h",
        "ft/min",
        "ft/s",
        "m/s2",
        "ft/s2",
        "lbf/in2",
        "N/m2",
        "V-A",
        "V/A",
        "A-s",
        "A-h",
        "1/s",
        "1/min",
    ];
    let composite = composite.map(|symbol| if symbol.is_empty() { Unit::number() } else { unit(symbol) });
    Unit::symbols().map(unit).chain(composite).collect()
}

#[test]
fn a_boundary_is_the_same_in_every_unit() {
    let readings = ["1", "2", "180", "50.8", "1/16", "0.1", "-49", "1/3"].map(exact);
    let hair = exact("1e-30");
    let units = all_units();
    let (mut pairs, mut compared) = (0, 0);
    for one in &units {
        for other in units.iter().filter(|other| other.dimension() == one.dimension()) {
            pairs += 1;
            for reading in &readings {
                let limit = ExactInterval::point(one.to_si(reading));
                let converted = other.from_si(&one.to_si(reading));
                let seen = ExactInterval::point(other.to_si(&converted));
                let above = ExactInterval::point(other.to_si(&converted.add(&hair)));
                assert_eq!(seen.equal(&limit), Truth::True, "{reading} {one} in {other}");
                assert_eq!(seen.at_least(&limit), Truth::True);
                assert_eq!(seen.at_most(&limit), Truth::True);
                assert_eq!(seen.less(&limit), Truth::False);
                assert_eq!(above.equal(&limit), Truth::False);
                assert_eq!(above.at_most(&limit), Truth::False);
                // The fast way may leave it open; it may not contradict.
                let (fast, line) = (seen.to_interval(), limit.to_interval());
                assert_ne!(fast.equal(line), Truth::False, "{reading} {one} in {other}");
                assert_ne!(fast.at_least(line), Truth::False);
                assert_ne!(fast.less(line), Truth::True);
                compared += 1;
            }
        }
    }
    assert!(pairs > 300, "{pairs}");
    println!("compared {compared} boundaries over {pairs} pairs of {} units", units.len());
}

#[test]
fn lengths_a_person_would_write_are_equal_where_the_trade_says_so() {
    // International yard and pound agreement of 1959; SP 811 B.8; the nautical
    // mile of 1929; the US gallon of 231 cubic inches; the horsepower of 33000 ft lbf/min.
    let cases = [
        ("2 in", "50.8 mm"),
        ("1 ft", "12 in"),
        ("1/16 in", "1.5875 mm"),
        ("180 kt", "333.36 km/h"),
        ("1 nmi", "1852 m"),
        ("5 mi", "26400 ft"),
        ("1 gal", "231 in3"),
        ("4 qt", "1 gal"),
        ("1 lb", "16 oz"),
        ("1 lb", "453.59237 g"),
        ("1 psi", "1 lbf/in2"),
        ("1 hp", "33000 ft-lbf/min"),
        ("12 lbf-in", "1 lbf-ft"),
        ("1 kgf", "9.80665 N"),
        ("60 rpm", "1 Hz"),
        ("1 Ah", "60 A-min"),
        ("50 %", "1/2"),
        ("150 %", "1.5"),
        ("1 ohm/1000ft", "1 milliohm/ft"),
        ("1 in²", "645.16 mm2"),
        ("1 kg/L", "1000 kg/m3"),
        ("90 °", "90 deg"),
        ("1 week", "168 h"),
    ];
    for (one, other) in cases {
        assert_eq!(range(one).equal(&range(other)), Truth::True, "{one} is {other}");
    }
    println!("compared {} equalities", cases.len());
}

#[test]
fn kinds_are_kept_apart_and_named() {
    let cases = [
        ("lb-in", "moment"),
        ("lbf-in", "torque"),
        ("Nm", "torque"),
        ("NM", "length"),
        ("degC", "temperature"),
        ("deltaC", "temperature-difference"),
        ("gal/h", "volume per time"),
        ("ohm/1000ft", "resistance per length"),
        ("lb/gal", "mass per volume"),
        ("V/A", "resistance"),
        ("A-ohm", "voltage"),
        ("%", "number"),
        ("1/s", "frequency"),
    ];
    for (symbol, kind) in cases {
        assert_eq!(unit(symbol).dimension().describe(), kind, "{symbol}");
    }
    for name in Dimension::names() {
        let dimension = Dimension::named(name).expect(name);
        assert_eq!(dimension.describe(), name);
        let usual = Unit::usual(&dimension).expect(name);
        assert_eq!(usual.dimension(), dimension, "{name}");
    }
    let temperature = Dimension::TEMPERATURE;
    assert_eq!(temperature.times(Dimension::NUMBER), None);
    assert_eq!(Dimension::LENGTH.per(temperature), None);
    assert_eq!(temperature.minus(temperature), Dimension::named("temperature-difference"));
    assert_eq!(temperature.plus(temperature), None);
    assert_eq!(temperature.plus(temperature.difference()), Some(temperature));
    // A product nobody has a name for still has a unit and words.
    let odd = unit("kg-m5-A/s3").dimension();
    let shown = Unit::usual(&odd).expect("a unit");
    assert_eq!(shown.dimension(), odd);
    println!("named {} kinds and {} dimensions", cases.len(), Dimension::names().count());
}

#[test]
fn wrong_units_say_what_was_expected() {
    let cases = [
        ("gallon", "gal (US) or impgal"),
        ("months", "days or weeks"),
        ("C", "degC"),
        ("lbs", "lb for a mass, lbf for a force"),
        ("IN", "did you mean `in`?"),
        ("PSI", "did you mean `psi`?"),
        ("mhp", "did you mean `mph`?"),
        ("furlong", "no unit is written"),
        ("degC/m", "deltaC"),
        ("kg/m-s", "after a slash"),
        ("in10", "2 to 9"),
        ("in1", "2 to 9"),
        ("lbf-", "missing"),
        ("/h", "missing"),
        ("gal/", "missing"),
        ("ohm/0ft", "zero"),
        ("1", "letter"),
        ("", "empty"),
    ];
    for (text, says) in cases {
        let error = Unit::parse(text).expect_err(text).to_string();
        assert!(error.contains(says), "{text:?} gives {error:?}");
    }
    let long = "m-".repeat(5000);
    assert!(Unit::parse(&long).is_err());
    assert!(Unit::parse(&format!("m9{}", "-m9".repeat(18))).is_err());
    assert!(matches!(Unit::parse("foots"), Err(UnitError::Unknown { nearest: Some(_), .. })));
    println!("read {} wrong units", cases.len() + 3);
}
