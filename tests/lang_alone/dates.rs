//! Dates and calendar months against jiff.

use crate::fixtures::seed::fresh_cases;
use cotterpin_lang::quantity::{Date, DateError, DateRange};
use jiff::{Span, Unit, civil};
use proptest::prelude::*;
use proptest::test_runner::TestRunner;

const CASES: u32 = 4000;

/// The same day in the other library.
fn jiffs(date: Date) -> civil::Date {
    civil::Date::new(date.year(), date.month(), date.day()).expect("jiff has every day")
}

#[test]
fn every_day_from_1900_to_2199_is_jiffs() {
    let mut day = civil::date(1900, 1, 1);
    let mut compared = 0;
    while day.year() <= 2199 {
        let days = day.since((Unit::Day, civil::date(1970, 1, 1))).expect("in range").get_days();
        let text = day.to_string();
        let ours = Date::parse(&text).expect("a date");
        assert_eq!(ours.days(), days, "{text}");
        assert_eq!(Date::from_days(days), ours);
        assert_eq!(ours.to_string(), text);
        assert_eq!(jiffs(ours), day);
        compared += 1;
        day = day.tomorrow().expect("a day");
    }
    assert_eq!(compared, 300 * 365 + 73); // 75 years that four divides, less 1900 and 2100.
    println!("compared {compared} days with jiff, forth and back");
}

#[test]
fn calendar_months_and_days_are_jiffs() {
    let input = (-25_567..84_005_i32, -1200..1200_i32, -40_000..40_000_i32);
    TestRunner::new(fresh_cases(CASES))
        .run(&input, |(days, months, more)| {
            let ours = Date::from_days(days);
            let theirs = jiffs(ours);
            let moved = theirs.checked_add(Span::new().months(months)).expect("in range");
            let other = if moved.day() == theirs.day() { moved } else { moved.tomorrow().expect("a day") };
            let both = ours.add_months(months).map(|range| (jiffs(range.first), jiffs(range.last)));
            prop_assert_eq!(both, Some((moved, other)));
            // The last day of a month is the day before the first of the next.
            let next = moved.first_of_month().checked_add(Span::new().months(1)).expect("in range");
            let end = next.yesterday().expect("a day");
            prop_assert_eq!(ours.end_of_month_after(months).map(jiffs), Some(end));
            let later = theirs.checked_add(Span::new().days(more)).ok();
            prop_assert_eq!(ours.add_days(more).map(jiffs), later);
            Ok(())
        })
        .expect("agrees with jiff");
    println!("compared {CASES} random days: months on, ends of months, days on");
}

#[test]
fn dates_outside_the_calendar_never_panic() {
    assert_eq!(Date::from_days(i32::MAX).to_string(), "9999-12-31");
    assert_eq!(Date::from_days(i32::MIN).year(), -9999);
    assert_eq!(Date::new(-9999, 1, 1), Some(Date::from_days(i32::MIN)));
    for date in [Date::from_days(i32::MAX), Date::from_days(i32::MIN), Date::from_days(0)] {
        for count in [i32::MIN, -1_000_000, 1_000_000, i32::MAX] {
            assert_eq!(date.add_months(count), None, "{date} {count} months");
            assert_eq!(date.end_of_month_after(count), None);
        }
        for count in [i32::MIN, i32::MAX] {
            assert_eq!(date.add_days(count), None);
        }
    }
    println!("tried 18 sums outside the calendar");
}

#[test]
fn ranges_of_days_are_read_and_written_alike() {
    let cases = [
        ("2026-10-04", "2026-10-04", "2026-10-04"),
        ("2026-10", "2026-10-01", "2026-10-31"),
        ("2026-02", "2026-02-01", "2026-02-28"),
        ("2024-02", "2024-02-01", "2024-02-29"),
        ("2026", "2026-01-01", "2026-12-31"),
        ("1900-02", "1900-02-01", "1900-02-28"),
    ];
    for (text, first, last) in cases {
        let range = DateRange::parse(text).expect(text);
        assert_eq!((range.first.to_string(), range.last.to_string()), (first.into(), last.into()));
        assert_eq!(range.to_string(), text);
    }
    println!("read and wrote {} ranges", cases.len());
}

#[test]
fn wrong_dates_say_what_is_wrong() {
    let cases = [
        ("2026-13", "there is no month 13"),
        ("2026-00-10", "there is no month 0"),
        ("2026-02-30", "February 2026 has 28 days"),
        ("2024-02-30", "February 2024 has 29 days"),
        ("2026-04-31", "April 2026 has 30 days"),
        ("2026-04-00", "there is no day 0 in April"),
        ("0026-04-01", "not between 1900 and 2199"),
        ("2200", "not between 1900 and 2199"),
        ("26-4-1", "is not a date"),
        ("04/10/2026", "is not a date"),
        ("2026-10-04-01", "is not a date"),
        ("2026-1", "is not a date"),
        ("", "is not a date"),
        ("２０２６", "is not a date"),
    ];
    for (text, says) in cases {
        let error = DateRange::parse(text).expect_err(text).to_string();
        assert!(error.contains(says), "{text:?} gives {error:?}");
    }
    assert!(matches!(Date::parse("2026-10"), Err(DateError::Malformed { .. })));
    println!("read {} wrong dates", cases.len());
}
