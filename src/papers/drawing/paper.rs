//! Sizes of paper and scales.

use crate::units::System;

/// A size of paper, the long side across.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct PaperSize {
    /// Its name: `a3`.
    pub name: &'static str,
    /// What it is called in a title block.
    pub shown: &'static str,
    /// The long side, mm.
    pub breadth: f64,
    /// The short side, mm.
    pub height: f64,
}

const fn size(name: &'static str, shown: &'static str, breadth: f64, height: f64) -> PaperSize {
    PaperSize { name, shown, breadth, height }
}

impl PaperSize {
    /// ISO 216 A4 to A0; ANSI/ASME Y14.1 A (letter), B (tabloid), C, D, and legal.
    pub const ALL: [PaperSize; 10] = [
        size("a4", "A4", 297.0, 210.0),
        size("a3", "A3", 420.0, 297.0),
        size("a2", "A2", 594.0, 420.0),
        size("a1", "A1", 841.0, 594.0),
        size("a0", "A0", 1189.0, 841.0),
        size("letter", "Letter", 279.4, 215.9),
        size("legal", "Legal", 355.6, 215.9),
        size("tabloid", "Tabloid 11 × 17 in", 431.8, 279.4),
        size("ansi_c", "ANSI C", 558.8, 431.8),
        size("ansi_d", "ANSI D", 863.6, 558.8),
    ];

    /// The size of that name.
    #[must_use]
    pub fn named(name: &str) -> Option<PaperSize> {
        Self::ALL.into_iter().find(|size| size.name == name)
    }

    /// What a sheet is drawn on where nobody asks for another: the largest that an office printer takes.
    #[must_use]
    pub fn usual(system: System) -> PaperSize {
        Self::named(if system == System::Us { "tabloid" } else { "a3" }).unwrap_or(Self::ALL[1])
    }

    /// What a template is printed on: what every printer takes.
    #[must_use]
    pub fn of_a_desk_printer(system: System) -> PaperSize {
        Self::named(if system == System::Us { "letter" } else { "a4" }).unwrap_or(Self::ALL[0])
    }
}

/// A scale.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Scale {
    /// How many times smaller than the building.
    pub times: f64,
    /// How it is written.
    pub shown: &'static str,
}

const fn scale(times: f64, shown: &'static str) -> Scale {
    Scale { times, shown }
}

impl Scale {
    /// Full size.
    pub const FULL: Scale = scale(1.0, "1:1");

    /// Reduction scales of ISO 5455, the larger drawings first; 1:25, which is on every scale rule, is common practice of builders, no source.
    const METRIC: [Scale; 11] = [
        scale(1.0, "1:1"),
        scale(2.0, "1:2"),
        scale(5.0, "1:5"),
        scale(10.0, "1:10"),
        scale(20.0, "1:20"),
        scale(25.0, "1:25"),
        scale(50.0, "1:50"),
        scale(100.0, "1:100"),
        scale(200.0, "1:200"),
        scale(500.0, "1:500"),
        scale(1000.0, "1:1000"),
    ];

    /// The marks of an architect's rule in inches; common practice, no source.
    const US: [Scale; 12] = [
        scale(1.0, "1:1"),
        scale(2.0, "6\" = 1'-0\""),
        scale(4.0, "3\" = 1'-0\""),
        scale(8.0, "1-1/2\" = 1'-0\""),
        scale(12.0, "1\" = 1'-0\""),
        scale(16.0, "3/4\" = 1'-0\""),
        scale(24.0, "1/2\" = 1'-0\""),
        scale(32.0, "3/8\" = 1'-0\""),
        scale(48.0, "1/4\" = 1'-0\""),
        scale(64.0, "3/16\" = 1'-0\""),
        scale(96.0, "1/8\" = 1'-0\""),
        scale(192.0, "1/16\" = 1'-0\""),
    ];

    /// The usual scales, the larger drawings first.
    #[must_use]
    pub fn usual(system: System) -> &'static [Scale] {
        if system == System::Us { &Self::US } else { &Self::METRIC }
    }

    /// Scales for what is not measured, each a little smaller than the one before.
    #[must_use]
    pub fn any() -> Vec<Scale> {
        (0..100).map(|step| scale(5.0 * 1.04_f64.powi(step), "none")).collect()
    }

    /// Millimetres of paper for a metre of the building.
    #[must_use]
    pub fn per_metre(&self) -> f64 {
        1000.0 / self.times
    }
}
