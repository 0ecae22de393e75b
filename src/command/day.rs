//! A day as it is given on the command line, where today and yesterday are days as well.

use super::clock::{NO_DATE, today};
use cotterpin_engine::project::freehand::{self, Freehand, unquoted};
use cotterpin_engine::quantity::{Date, DateRange};

/// A day, or some day of a month or year.
///
/// # Errors
/// Why it is none, or which days it may be.
pub(super) fn days(text: &str) -> Result<Freehand<DateRange>, String> {
    let back = match unquoted(text).to_lowercase().as_str() {
        "today" => 0,
        "yesterday" => -1,
        _ => return freehand::date(text).map_err(|why| why.to_string()),
    };
    let day = today().and_then(|today| today.add_days(back)).map(DateRange::day);
    let value = day.ok_or_else(|| format!("{NO_DATE}; write the day, such as 2026-11-25"))?;
    Ok(Freehand { value, strict: Some(value.to_string()) })
}

/// One day.
///
/// # Errors
/// Why it is none, or which days it may be.
pub(super) fn day(text: &str) -> Result<Date, String> {
    match days(text) {
        Ok(Freehand { value, .. }) if value.first == value.last => Ok(value.first),
        Ok(_) => Err("one day is asked; write a day such as 2026-11-25".to_owned()),
        Err(why) => Err(why),
    }
}

#[cfg(test)]
mod tests {
    use super::{day, days, today};

    #[test]
    fn today_and_yesterday_are_days() {
        // Midnight may pass between the two questions.
        let before = today().expect("a day");
        for (word, back) in [("today", 0), ("Yesterday", -1), ("“today”", 0)] {
            let read = day(word).expect("a day");
            let after = today().expect("a day");
            assert!([before, after].map(|day| day.add_days(back)).contains(&Some(read)), "{word}");
        }
        assert_eq!(days("25/12/2026").map(|read| read.strict), Ok(Some("2026-12-25".to_owned())));
        assert!(day("December 2026").is_err() && day("tomorrow").is_err());
    }
}
