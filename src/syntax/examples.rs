//! What messages give as an example: the one place where words of a building stand in the code, for an example has to be
//! of something that a builder knows.

/// A rule's name.
pub const RULE_NAME: &str = "a rule's name with its area, like `travel.open_sensor_margin`";
/// The type of a property.
pub const TYPE: &str = "a type like `length`, `link to post` or `one of open, shut`";
/// What stands behind `in`.
pub const GONE_THROUGH: &str = "for c in clamp";
/// What gives a signal.
pub const CONDITION: &str = "`open_button and not open_sensor`";
/// An array.
pub const ARRAY: &str = "post gantry[1..4]";
/// What a whole building has.
pub const EVERY_BUILDING: &str = "every_building holddown, \"a clamp that holds the shut roof\"";
/// What each of a kind needs.
pub const NEEDS: &str = "needs power, \"a motor that turns it\", any(m.moves == this for m in motor)";
/// A property of a kind.
pub const PROPERTY: &str = "clamp.working_load";
/// What is gathered over components.
pub const GATHERED: &str = "c.working_load for c in clamp";
/// Where the numbers of a property usually lie.
pub const USUALLY: &str = "usually 10 m/s to 60 m/s because \"the maps of the codes\"";
/// A sum over components.
pub const SUM: &str = "sum(c.mass for c in wall)";
/// A file of a design.
pub const FILE: &str = "use \"parts/clamps.plate\"";
