//! The words people write for units, and which units each may be.
//!
//! Which of them is meant, the kind that is asked decides. What no kind makes
//! single stands with all that it may be: a mile is a nautical one as well.

use crate::quantity::Unit;

/// Words in small letters, without full stops, and the units each may be.
const WORDS: &[(&[&str], &[&str])] = &[
    (&["percent", "pct"], &["%"]),
    // Length.
    (&["in", "ins", "inch", "inches", "\""], &["in"]),
    (&["ft", "foot", "feet", "'"], &["ft"]),
    (&["yds", "yard", "yards"], &["yd"]),
    (&["mile", "miles"], &["mi", "nmi"]),
    (&["nauticalmile", "nauticalmiles"], &["nmi"]),
    (&["statutemile", "statutemiles"], &["mi"]),
    // A slip for `mm`, or nautical miles.
    (&["nm"], &["nmi", "mm", "Nm"]),
    (&["m"], &["m", "min"]),
    (&["metre", "metres", "meter", "meters"], &["m"]),
    (&["millimetre", "millimetres", "millimeter", "millimeters"], &["mm"]),
    (&["centimetre", "centimetres", "centimeter", "centimeters"], &["cm"]),
    (&["kilometre", "kilometres", "kilometer", "kilometers", "kms"], &["km"]),
    // Mass and force: most people have one word for both.
    (&["lb", "lbs", "pound", "pounds", "#"], &["lb", "lbf"]),
    (&["lbm"], &["lb"]),
    (&["lbsf"], &["lbf"]),
    (&["kg", "kgs", "kilo", "kilos", "kilogram", "kilograms", "kilogramme", "kilogrammes"], &["kg", "kgf"]),
    (&["gram", "grams", "gramme", "grammes"], &["g"]),
    (&["g"], &["g", "gn"]),
    (&["tonne", "tonnes"], &["t"]),
    (&["oz", "ounce", "ounces"], &["oz", "floz"]),
    (&["floz", "fluidounce", "fluidounces"], &["floz"]),
    (&["newton", "newtons"], &["N"]),
    (&["newtonmetre", "newtonmetres", "newtonmeter", "newtonmeters"], &["Nm"]),
    // Time.
    (&["sec", "secs", "second", "seconds"], &["s"]),
    (&["mins", "minute", "minutes"], &["min"]),
    (&["hr", "hrs", "hour", "hours"], &["h"]),
    (&["wk", "wks"], &["week"]),
    // Speed and other rates.
    (&["knot", "knots", "kts"], &["kt"]),
    (&["kn"], &["kt", "kN"]),
    (&["milesperhour"], &["mph"]),
    (&["kph", "kmh", "kmph"], &["km/h"]),
    (&["fpm"], &["ft/min"]),
    (&["fps"], &["ft/s"]),
    (&["gph"], &["gal/h"]),
    (&["gpm"], &["gal/min"]),
    (&["lph"], &["L/h"]),
    (&["pph"], &["lb/h"]),
    // Pressure.
    (&["psf"], &["lbf/ft2"]),
    (&["bars"], &["bar"]),
    (&["millibar", "millibars", "mb"], &["mbar"]),
    (&["inhg", "inchhg", "incheshg"], &["inHg"]),
    (&["mmhg"], &["mmHg"]),
    // Temperature: on a scale and as a difference; and which scale, where none is named.
    (&["c", "°c", "degc", "degreec", "degreesc", "celsius", "centigrade"], &["degC", "deltaC"]),
    (&["degcelsius", "degreecelsius", "degreescelsius"], &["degC", "deltaC"]),
    (&["f", "°f", "degf", "degreef", "degreesf", "fahrenheit"], &["degF", "deltaF"]),
    (&["degfahrenheit", "degreefahrenheit", "degreesfahrenheit"], &["degF", "deltaF"]),
    (&["k", "kelvin"], &["K", "deltaK"]),
    (&["°", "deg", "degs", "degree", "degrees"], &["deg", "degC", "degF", "deltaC", "deltaF"]),
    // Electricity and power.
    (&["volt", "volts", "vdc"], &["V"]),
    (&["millivolt", "millivolts"], &["mV"]),
    (&["amp", "amps", "ampere", "amperes"], &["A"]),
    (&["milliamp", "milliamps"], &["mA"]),
    (&["ahr", "ahrs"], &["Ah"]),
    (&["mah"], &["mA-h"]),
    (&["ohms"], &["ohm"]),
    (&["milliohms"], &["milliohm"]),
    (&["kilohm", "kilohms", "kiloohm", "kiloohms"], &["kohm"]),
    (&["watt", "watts"], &["W"]),
    (&["kilowatt", "kilowatts"], &["kW"]),
    (&["horsepower"], &["hp"]),
    (&["hertz"], &["Hz"]),
    // Volume.
    (&["litre", "litres", "liter", "liters"], &["L"]),
    (&["millilitre", "millilitres", "milliliter", "milliliters"], &["mL"]),
    (&["cc", "ccm"], &["cm3"]),
    (&["gals"], &["gal"]),
    (&["gallon", "gallons"], &["gal", "impgal"]),
    (&["usgallon", "usgallons", "usgals"], &["usgal"]),
    (&["impgals", "impgallon", "impgallons", "imperialgal", "imperialgallon", "imperialgallons"], &["impgal"]),
    (&["pts"], &["pt"]),
    (&["qts"], &["qt"]),
];

/// Symbols in which a capital letter makes another unit, or none that is
/// known: they are read only as they stand here.
const BY_LETTER: &[(&[&str], &str)] = &[(&["mΩ", "mohms"], "mohm"), (&["kΩ", "KΩ"], "kohm"), (&["NM"], "nmi")];

/// Symbols of the table that no other letters are read as: `Mohm` is a
/// thousand million times `mohm`, and `nm` may be a slip for `mm`.
const NEVER_FOLDED: [&str; 3] = ["mohm", "NM", "nmi"];

/// Every unit that one word may be, as the table of units writes it.
pub(super) fn units_of(word: &str) -> Vec<&'static str> {
    let by_letter = BY_LETTER.iter().filter(|(words, _)| words.contains(&word));
    let mut units: Vec<&'static str> = by_letter.map(|(_, unit)| *unit).collect();
    let small = word.to_lowercase();
    let words = WORDS.iter().filter(|(words, _)| words.contains(&small.as_str()));
    // A capital M is mega or months rather than minutes.
    units.extend(words.flat_map(|(_, units)| units.iter().copied()).filter(|unit| word != "M" || *unit != "min"));
    units.extend(Unit::symbols().filter(|symbol| *symbol == word));
    let folded = |symbol: &&str| symbol.to_lowercase() == small && !NEVER_FOLDED.contains(symbol);
    units.extend(Unit::symbols().filter(folded));
    let mut single = Vec::with_capacity(units.len());
    for unit in units {
        if !single.contains(&unit) {
            single.push(unit);
        }
    }
    single
}
