//! Bytes to text, offsets to lines, days to dates, and the trees that the build has prepared.

use wallplate::syntax::tree::Date;
use wallplate::text::{FileId, LineIndex, Position, Unreadable, decode};
use wallplate::trade::parts;
use wallplate::values::{Halt, unless_halted};

#[test]
fn a_byte_order_mark_goes_and_other_bytes_are_named() {
    assert_eq!(decode(b"\xEF\xBB\xBFsite".to_vec()), Ok("site".to_owned()));
    assert_eq!(decode(b"a\nbc\xE9".to_vec()), Err(Unreadable::NotUtf8 { line: 2, column: 3, byte: 0xE9 }));
    assert_eq!(decode(b"s\0i\0".to_vec()), Err(Unreadable::Nul { line: 1 }));
}

#[test]
fn positions_count_characters_and_all_line_ends() {
    let text = "a\r\nbé\u{1F52D}x\rc\n";
    let index = LineIndex::new(text);
    assert_eq!(index.count(), 4);
    let x = u32::try_from(text.find('x').unwrap()).unwrap();
    assert_eq!(index.position(text, x), Position { line: 2, column: 4 });
    assert_eq!(index.utf16(text, x), (1, 4));
    assert_eq!(index.offset_of_utf16(text, 1, 4), x);
    assert_eq!(index.position(text, 999), Position { line: 4, column: 1 });
}

#[test]
fn work_ends_where_it_heeds() {
    let halt = Halt::default();
    assert_eq!(unless_halted(|| halt.heed()).unwrap(), Some(()));
    halt.raise();
    assert_eq!(unless_halted(|| halt.heed()).unwrap(), None);
    assert!(unless_halted(|| std::panic::resume_unwind(Box::new("another matter"))).is_err());
}

#[test]
fn the_prepared_trees_are_what_the_texts_say() {
    for part in parts() {
        let (tree, problems) = wallplate::syntax::parse(part.text, FileId::built_in(part.place));
        assert_eq!(problems, [], "{}", part.path);
        assert_eq!(*part.tree(), tree, "{}", part.path);
    }
}

/// Day numbers from the Julian dates of the Astronomical Almanac's epochs: 1970-01-01 is JD 2440587.5,
/// 2000-01-01 is JD 2451544.5.
#[test]
fn days_are_dates() {
    let date = |days| Date::of_number(days).map(|date| date.to_string());
    assert_eq!(date(0).as_deref(), Some("1970-01-01"));
    assert_eq!(date(2_451_544 - 2_440_587).as_deref(), Some("2000-01-01"));
    assert_eq!(date(-1).as_deref(), Some("1969-12-31"));
}

/// Counts the calendar day by day, the slow and obvious way.
#[test]
fn every_day_of_eight_centuries() {
    let (mut year, mut month, mut day) = (1600, 1, 1);
    let first = -135_140;
    for days in first..first + 2 * 146_097 {
        assert_eq!(Date::of_number(days), Date::new(year, month, day), "day {days}");
        assert_eq!(Date::new(year, month, day).unwrap().number(), days);
        day += 1;
        if Date::new(year, month, day).is_none() {
            (month, day) = (month + 1, 1);
            if month > 12 {
                (year, month) = (year + 1, 1);
            }
        }
    }
}
