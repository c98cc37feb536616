//! Size factors of the NDS: CF, the flat-use factor Cfu, and which table they come from.
//!
//! In: actual section, the table that the design values come from. Out: factors on Fb, Ft and Fc.
//! It must not know the design values. Source: NDS 2018 Supplement, adjustment factors of Tables 4A, 4B and 4D.

use super::section::Rectangle;
use crate::calc::inch_pound::INCH;

/// The table of the NDS Supplement that the design values were taken from, for that decides how size counts.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Table {
    /// Visually graded dimension lumber, all species but Southern Pine.
    T4A(GradeClass),
    /// Visually graded Southern Pine: the values already contain the size, only beyond 12 in or 4 in thick it counts.
    T4B,
    /// Timbers, 5 × 5 in and larger.
    T4D,
    /// Structural glued laminated softwood.
    T5A,
}

/// Grades that have size factors in common in Table 4A.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum GradeClass {
    /// Select Structural, No.1 & Btr, No.1, No.2, No.3.
    Structural,
    /// Stud.
    Stud,
    /// Construction, Standard.
    Construction,
    /// Utility.
    Utility,
}

/// Size factors of the three strengths that have one.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct SizeFactors {
    /// On bending.
    pub bending: f64,
    /// On tension along the grain.
    pub tension: f64,
    /// On compression along the grain.
    pub compression: f64,
}

const NONE: SizeFactors = SizeFactors { bending: 1.0, tension: 1.0, compression: 1.0 };

/// Volume factor CV of glued laminated timber: (21 ft/L)^(1/10) (12 in/d)^(1/10) (5.125 in/b)^(1/10), at most 1, with L taken as
/// 30 ft: no beam of such a building is longer. It counts beside the factor for tipping, on the safe side.
/// Source: NDS 2018 eq. 5.3-1, §5.3.6.
#[must_use]
pub fn volume_factor(section: Rectangle) -> f64 {
    let (depth, breadth) = (section.depth / INCH, section.breadth / INCH);
    ((21.0 / 30.0) * (12.0 / depth) * (5.125 / breadth)).powf(0.1).min(1.0)
}

/// Bending of glued laminated timber that lies on its side over what it takes upright, the least of Table 5A (800 of 2000 psi).
/// Source: NDS Supplement 2018 Table 5A, from memory.
const GLULAM_ON_ITS_SIDE: f64 = 0.4;

/// Size factor CF; CV of glued laminated timber. Source: NDS 2018 Supplement, Table 4A, 4B and 4D adjustment factors; §4.3.6.
///
/// The breadth is the thickness and the depth the width of the tables, whichever way the piece lies.
#[must_use]
pub fn size_factors(table: Table, section: Rectangle) -> SizeFactors {
    let (thickness, width) = thickness_and_width(section);
    let thick = thickness > 3.0;
    match table {
        Table::T4A(GradeClass::Structural) => structural(width, thick),
        Table::T4A(GradeClass::Stud) if width <= 3.6 => SizeFactors { bending: 1.1, tension: 1.1, compression: 1.05 },
        // "Use No.3 Grade tabulated design values and size factors" for Stud of 8 in and wider.
        Table::T4A(GradeClass::Stud) if width > 6.0 => structural(width, thick),
        Table::T4A(GradeClass::Utility) if width <= 2.6 => SizeFactors { bending: 0.4, tension: 0.4, compression: 0.6 },
        Table::T4A(_) => NONE,
        Table::T4B => {
            let wide = if width > 11.5 { 0.9 } else { 1.0 };
            let bending = if thick && width > 7.0 && width <= 11.5 { 1.1 } else { wide };
            SizeFactors { bending, tension: wide, compression: wide }
        }
        Table::T4D => {
            // (12/d)^(1/9) beyond 12 in of depth; depth counts as it lies.
            let depth = section.depth / INCH;
            let bending = if depth > 12.0 { (12.0 / depth).powf(1.0 / 9.0) } else { 1.0 };
            SizeFactors { bending, ..NONE }
        }
        Table::T5A => SizeFactors { bending: volume_factor(section), ..NONE },
    }
}

fn structural(width: f64, thick: bool) -> SizeFactors {
    let pick = |thin: f64, thick_value: f64| if thick { thick_value } else { thin };
    let (bending, tension, compression) = match width {
        w if w <= 3.6 => (1.5, 1.5, 1.15),
        w if w <= 4.6 => (1.4, 1.4, 1.1),
        w if w <= 5.6 => (1.3, 1.3, 1.1),
        w if w <= 7.5 => (pick(1.2, 1.3), 1.2, 1.05),
        w if w <= 9.5 => (pick(1.1, 1.2), 1.1, 1.0),
        w if w <= 11.5 => (pick(1.0, 1.1), 1.0, 1.0),
        _ => (pick(0.9, 1.0), 0.9, 0.9),
    };
    SizeFactors { bending, tension, compression }
}

/// Flat-use factor Cfu for a piece that is bent about its weak axis (breadth greater than depth), else 1.
/// For timbers it is 1 here: Table 4D gives it by grade, which is the catalogue's to know.
/// Source: NDS 2018 Supplement, Table 4A and 4B flat use factor; §4.3.7.
#[must_use]
pub fn flat_use_factor(table: Table, section: Rectangle) -> f64 {
    if section.breadth <= section.depth || table == Table::T4D {
        return 1.0;
    }
    if table == Table::T5A {
        return GLULAM_ON_ITS_SIDE;
    }
    let (thickness, width) = thickness_and_width(section);
    let thick = thickness > 3.0;
    match width {
        w if w <= 2.6 => 1.0,
        w if w <= 3.6 => {
            if thick {
                1.0
            } else {
                1.1
            }
        }
        w if w <= 4.6 => {
            if thick {
                1.05
            } else {
                1.1
            }
        }
        w if w <= 7.5 => {
            if thick {
                1.05
            } else {
                1.15
            }
        }
        _ => {
            if thick {
                1.1
            } else {
                1.2
            }
        }
    }
}

/// The smaller and the larger side, in.
fn thickness_and_width(section: Rectangle) -> (f64, f64) {
    let (one, other) = (section.breadth / INCH, section.depth / INCH);
    (one.min(other), one.max(other))
}
