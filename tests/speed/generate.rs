//! Large designs for measuring: the same bay again and again, each with parts of its own.

use std::fmt::Write as _;

/// A design of at least `lines` lines.
pub fn design(lines: usize) -> String {
    let mut text = String::from(
        "observatory long_row \"A row of roofs, for measuring\" {\n  rolls_open   north\n  design_code  eurocode\n}\n\
         site {\n  latitude        52.1 deg\n  wind_speed      24 m/s\n  operating_wind  9 m/s\n  terrain         open_country\n}\n\
         slab floor { thickness 150 mm }\nlet eave  2.08 m\n",
    );
    let mut bay = 0;
    while text.lines().count() < lines {
        // Counting lines is what costs here: a hundred bays at a time.
        for _ in 0..100 {
            one_bay(&mut text, bay);
            bay += 1;
            if bay * LINES_IN_BAY > lines {
                break;
            }
        }
    }
    text
}

const LINES_IN_BAY: usize = 132;

/// From one bay to the next, m: each stands free.
const APART: usize = 6;

fn one_bay(text: &mut String, bay: usize) {
    let across = |metres: f64| format!("{:.2} m", f64::from(u32::try_from(bay * APART).unwrap_or(u32::MAX)) + metres);
    let at = |name: &str| format!("{name}_{bay}");
    let mut block = |header: String, lines: &[String]| {
        let _ = writeln!(text, "{header} {{");
        for line in lines {
            let _ = writeln!(text, "  {line}");
        }
        let _ = writeln!(text, "}}\n");
    };
    for side in ["east", "west"] {
        let offset = across(if side == "east" { 0.05 } else { 3.15 });
        let profile = if side == "east" { "vee" } else { "flat" };
        block(
            format!("wall {}", at(&format!("{side}_wall"))),
            &["stands_on  floor".into(), "tied_to    floor".into(), "height     1.90 m".into(), format!("offset     {offset}")],
        );
        block(
            format!("track {}", at(&format!("{side}_track"))),
            &[
                format!("profile   {profile}"),
                "runs      0 m to 8.75 m".into(),
                format!("offset    {offset}"),
                "level     eave - 40 mm".into(),
                format!("rests_on  {}", at(&format!("{side}_wall"))),
            ],
        );
        block(
            format!("wheels {}", at(&format!("{side}_wheels"))),
            &[
                format!("runs_on        {}", at(&format!("{side}_track"))),
                "stations       0.25 m, 2.10 m, 3.95 m".into(),
                "diameter       100 mm".into(),
                "axle_diameter  20 mm".into(),
            ],
        );
        for station in ["0.20 m", "4.00 m"] {
            let end = if station.starts_with('0') { "south" } else { "north" };
            block(
                format!("clamp {}", at(&format!("{side}_{end}"))),
                &[
                    format!("holds         {}", at("roof")),
                    "working_load  3.5 kN".into(),
                    format!("station       {station} ± 5 mm"),
                    format!("offset        {offset}"),
                    format!("anchored_to   {}", at(&format!("{side}_wall"))),
                ],
            );
        }
    }
    block(
        format!("roof {}", at("roof")),
        &[
            "shape       gable".into(),
            "pitch       20 deg".into(),
            "ridge       along".into(),
            "length      4.50 m".into(),
            "width       3.60 m".into(),
            "start       -0.15 m".into(),
            format!("right_edge  {}", across(-0.20)),
            "eaves_level eave".into(),
            "mass        640 kg ± 40 kg".into(),
            "enclosure   enclosed".into(),
            format!("rolls_on    {}, {}", at("east_wheels"), at("west_wheels")),
        ],
    );
    block(format!("drive {}", at("drive")), &[format!("moves {}", at("roof")), "speed 100 mm/s".into(), "reaction_time 0.2 s".into()]);
    block(format!("magnet {}", at("magnet")), &[format!("fixed_to {}", at("roof")), "station 2.10 m".into()]);
    for (end, sensor, stop, meets) in [("open", "6.300 m ± 3 mm", "8.675 m", "4.35 m"), ("closed", "2.220 m ± 3 mm", "-0.130 m", "-0.15 m")]
    {
        block(
            format!("sensor {}", at(&format!("{end}_sensor"))),
            &[
                format!("marks {end}"),
                format!("watches {}", at("magnet")),
                format!("station {sensor}"),
                "operates_within 12 mm".into(),
                "gap 7 mm ± 1 mm".into(),
            ],
        );
        block(
            format!("stop {}", at(&format!("{end}_stop"))),
            &[
                format!("end {end}"),
                format!("stops {}", at("roof")),
                format!("fixed_to {}", at("east_wall")),
                format!("station {stop}"),
                format!("meets {meets}"),
            ],
        );
    }
}
