//! The arguments of each command, with the help that is shown for them.

use super::{terminal, today};
use crate::papers::drawing::PaperSize;
use crate::session::LAST_WORD;
use crate::syntax::LANGUAGE;
use crate::syntax::tree::Date;
use clap::builder::PossibleValuesParser;
use clap::{Args, ColorChoice, CommandFactory, FromArgMatches, Parser, Subcommand, ValueEnum, ValueHint};
use clap_complete::Shell;
use std::num::NonZeroUsize;
use std::path::PathBuf;

/// Check the design of a roll-off-roof observatory before anything is cut, poured or bolted.
#[derive(Debug, Parser)]
#[command(
    name = "wallplate",
    version = format!("{} (language {LANGUAGE})", env!("CARGO_PKG_VERSION")),
    subcommand_required = true,
    arg_required_else_help = true,
    after_help = format!("Exit status: 0 nothing fails; 1 a rule fails; 2 the design could not be read or the command was wrong.\n{LAST_WORD}")
)]
struct Program {
    /// Say in words what is otherwise drawn, for a screen reader; the variable NO_GRAPHICS does so too
    #[arg(long, global = true)]
    narrated: bool,
    #[command(subcommand)]
    command: Command,
}

#[derive(Debug, Subcommand)]
pub(super) enum Command {
    /// Run the rules on a design
    Check(CheckArgs),
    /// Work out one expression, in a design or as a calculator
    Value(ValueArgs),
    /// The rules, kinds, functions and units with their documentation and sources
    Rules(RulesArgs),
    /// Draw the sheets to build from: to scale, dimensioned, as SVG or DXF
    Draw(DrawArgs),
    /// What to buy, and how to cut it
    Takeoff(TakeoffArgs),
    /// The order of work
    Sequence(SequenceArgs),
    /// The short lists that hang on the wall
    Cards(CardsArgs),
    /// What moves the roof, and what it can come to: zones, promises, and the story that breaks each
    Control(ControlArgs),
    /// Write the report: one HTML file with the answer, the roof to roll and the calculation sheets
    Report(ReportArgs),
    /// Write a first file to start from
    New(NewArgs),
    /// Lay the text out in the one standard way
    Tidy(TidyArgs),
    /// Write what a shell needs to complete this program's arguments
    Completions(CompletionsArgs),
    /// Write this program's manual pages
    Man(ManArgs),
    /// Speak the Language Server Protocol with an editor, over standard input and output
    LanguageServer(LanguageServerArgs),
}

#[expect(clippy::struct_excessive_bools, reason = "each is a switch of the command line of its own")]
#[derive(Debug, Args)]
pub(super) struct CheckArgs {
    /// The design; several files are read as one, and what they `use` is read with them; `-` is read from standard input. In
    /// a folder each design is found and checked by itself
    #[arg(required = true, value_name = "FILE", value_hint = ValueHint::AnyPath)]
    pub paths: Vec<PathBuf>,
    /// How to write the result
    #[arg(long, value_enum, default_value_t = Format::Text)]
    pub format: Format,
    /// Check this variant of the design
    #[arg(long, value_name = "NAME", value_hint = ValueHint::Other, conflicts_with = "every_variant")]
    pub variant: Option<String>,
    /// Check the design and each of its variants, side by side
    #[arg(long)]
    pub every_variant: bool,
    /// Use what was measured in place of what was planned
    #[arg(long)]
    pub as_built: bool,
    /// Only what these areas (`holddown`), rules (`holddown.load_path_is_whole`) and components (`open_stop`) are about;
    /// several stand with commas
    #[arg(long, value_name = "NAME", value_hint = ValueHint::Other, value_delimiter = ',')]
    pub only: Vec<String>,
    /// Exit with 1 also where something is tight, undetermined, not begun, accepted only until a day that has passed, or does
    /// not hold with what was measured
    #[arg(long)]
    pub strict: bool,
    /// Tell everything: what passes as well, and what is assumed and can hurt
    #[arg(long)]
    pub all: bool,
    /// List what is assumed because no line says otherwise
    #[arg(long)]
    pub assumed: bool,
    /// List all that can hurt
    #[arg(long)]
    pub cautions: bool,
    /// Designs of a folder that are worked out at a time; without it as many as there are cores
    #[arg(long, value_name = "NUMBER", value_hint = ValueHint::Other)]
    pub jobs: Option<NonZeroUsize>,
}

#[derive(Debug, Clone, Copy, PartialEq, Eq, ValueEnum)]
pub(super) enum Format {
    /// For people
    Text,
    /// For programs
    Json,
    /// For code review: SARIF 2.1.0
    Sarif,
}

#[derive(Debug, Args)]
pub(super) struct LanguageServerArgs {
    /// Over standard input and output: the only way there is, so it may be left out
    #[arg(long)]
    pub stdio: bool,
}

#[derive(Debug, Args)]
pub(super) struct ValueArgs {
    /// The design; `-` works out an expression without one
    #[arg(value_name = "FILE", value_hint = ValueHint::FilePath)]
    pub file: PathBuf,
    /// What to work out: `main_roof.net_uplift in lbf`; with `--rule` the components that the rule is about
    #[arg(value_name = "EXPR", allow_hyphen_values = true, required_unless_present = "rule", value_hint = ValueHint::Other)]
    pub expression: Option<String>,
    /// Both sides of a rule (`travel.stop_energy`) as it was judged, in place of an expression
    #[arg(long, value_name = "RULE", value_hint = ValueHint::Other, conflicts_with = "format")]
    pub rule: Option<String>,
    /// Show the steps, as one would check them by hand
    #[arg(long)]
    pub how: bool,
    /// How to write the result
    #[arg(long, value_enum, default_value_t = ValueFormat::Text)]
    pub format: ValueFormat,
    /// Use this variant of the design
    #[arg(long, value_name = "NAME", value_hint = ValueHint::Other)]
    pub variant: Option<String>,
    /// Use what was measured in place of what was planned
    #[arg(long)]
    pub as_built: bool,
}

#[derive(Debug, Clone, Copy, PartialEq, Eq, ValueEnum)]
pub(super) enum ValueFormat {
    /// For people
    Text,
    /// For programs
    Json,
}

#[derive(Debug, Args)]
pub(super) struct RulesArgs {
    /// A rule, an area, a kind, a property (`clamp.working_load`), a function, a unit, a catalogue, or `rules`, `kinds`,
    /// `functions`, `units`; of other words, like `motor torque`, all that speaks of them
    #[arg(value_name = "NAME", value_hint = ValueHint::Other)]
    pub name: Vec<String>,
}

#[derive(Debug, Args)]
pub(super) struct DrawArgs {
    #[command(flatten)]
    pub design: Design,
    /// Only this sheet; may be given several times
    #[arg(long, value_name = "NAME")]
    pub sheet: Vec<String>,
    /// What to write
    #[arg(long, value_enum, default_value_t = DrawFormat::Svg)]
    pub format: DrawFormat,
    /// The paper; without it A3 or Tabloid, and for templates A4 or Letter, by the units of the design
    #[arg(long, value_name = "SIZE", value_parser = PossibleValuesParser::new(PaperSize::ALL.map(|size| size.name)))]
    pub paper: Option<String>,
    /// The folder for the sheets
    #[arg(long, value_name = "FOLDER", default_value = "drawings")]
    pub into: PathBuf,
    /// Date of issue for the title block, like 2027-05-02; today without it
    #[arg(long, value_name = "DATE", value_hint = ValueHint::Other, value_parser = today::day)]
    pub date: Option<Date>,
    /// Revision for the title block: a letter, or the commit of the design
    #[arg(long, value_name = "TEXT")]
    pub revision: Option<String>,
    /// Write over files that wallplate did not write
    #[arg(long)]
    pub replace: bool,
}

#[derive(Debug, Clone, Copy, PartialEq, Eq, ValueEnum)]
pub(super) enum DrawFormat {
    /// To look at and to print
    Svg,
    /// To draw on, at full size
    Dxf,
}

#[derive(Debug, Args)]
pub(super) struct ReportArgs {
    #[command(flatten)]
    pub design: Design,
    /// The folder to write it into, under the name of the design
    #[arg(long, value_name = "FOLDER", default_value = ".", value_hint = ValueHint::DirPath)]
    pub into: PathBuf,
    /// How to write it
    #[arg(long, value_enum, default_value_t = ReportFormat::Html)]
    pub format: ReportFormat,
    /// The revision, for the title block
    #[arg(long, value_name = "TEXT", value_hint = ValueHint::Other)]
    pub revision: Option<String>,
    /// The date of issue, like 2027-05-02: for the title block, and the day that acceptances are judged on
    #[arg(long, value_name = "DATE", value_hint = ValueHint::Other, value_parser = today::day)]
    pub date: Option<Date>,
    /// Write over a file that wallplate did not write
    #[arg(long)]
    pub replace: bool,
}

#[derive(Debug, Clone, Copy, PartialEq, Eq, ValueEnum)]
pub(super) enum ReportFormat {
    /// One page that carries all it needs
    Html,
}

#[derive(Debug, Args)]
pub(super) struct NewArgs {
    /// The design's name: lower case, digits and `_`; the file is NAME.plate
    #[arg(value_name = "NAME", value_hint = ValueHint::Other)]
    pub name: String,
    /// The units to write it in
    #[arg(long, value_enum, default_value_t = Units::Metric)]
    pub units: Units,
    /// How long the side walls are, like `4.2 m`
    #[arg(long, value_name = "LENGTH", value_hint = ValueHint::Other)]
    pub length: Option<String>,
    /// How far the side walls stand apart, from middle to middle
    #[arg(long, value_name = "LENGTH", value_hint = ValueHint::Other)]
    pub width: Option<String>,
    /// Which way the roof opens: `north`, `south_east` …
    #[arg(long, value_name = "WAY", value_hint = ValueHint::Other)]
    pub opens: Option<String>,
    /// By which code: `eurocode` or `asce7`; without it that of the units
    #[arg(long, value_name = "CODE", value_hint = ValueHint::Other)]
    pub code: Option<String>,
    /// Start from a whole design on which every check holds, with its own sizes
    #[arg(long, value_enum, value_name = "SHAPE", conflicts_with_all = ["units", "length", "width", "opens", "code"])]
    pub like: Option<Shape>,
}

/// Whole designs to start from.
#[derive(Debug, Clone, Copy, PartialEq, Eq, ValueEnum)]
pub(super) enum Shape {
    /// Timber under a gable, 4 m, two piers; metric, Eurocodes
    Gable,
    /// Timber under a shed roof on a raised deck, one pier; feet and inches, ASCE 7
    ShedRoof,
    /// A steep gable on steel beams; feet and inches, ASCE 7
    SteelBeams,
}

#[derive(Debug, Clone, Copy, PartialEq, Eq, ValueEnum)]
pub(super) enum Units {
    /// Metres, kilonewtons, the Eurocodes
    Metric,
    /// Feet and inches, pounds, ASCE 7
    Us,
}

#[derive(Debug, Args)]
pub(super) struct TidyArgs {
    /// The files to lay out, each by itself, and folders of them; `-` takes a text from standard input to standard output
    #[arg(required = true, value_name = "FILE", value_hint = ValueHint::AnyPath)]
    pub paths: Vec<PathBuf>,
    /// Change nothing; exit with 1 where something would change
    #[arg(long)]
    pub check: bool,
    /// Change nothing; show what would change
    #[arg(long)]
    pub diff: bool,
}

#[derive(Debug, Args)]
pub(super) struct CompletionsArgs {
    /// The shell
    #[arg(value_enum, value_name = "SHELL")]
    pub shell: Shell,
}

#[derive(Debug, Args)]
pub(super) struct ManArgs {
    /// A folder to write all pages into; without one the first page goes to standard output
    #[arg(value_name = "FOLDER", value_hint = ValueHint::DirPath)]
    pub folder: Option<PathBuf>,
    /// Write over files that wallplate did not write
    #[arg(long, requires = "folder")]
    pub replace: bool,
}

/// The program's arguments as a whole, from which completions and manual pages are made.
pub(super) fn program() -> clap::Command {
    Program::command()
}

/// A design to be put on paper.
#[derive(Debug, Args)]
pub(super) struct Design {
    /// The design; several files are read as one, and what they `use` is read with them
    #[arg(required = true, value_name = "FILE", value_hint = ValueHint::FilePath)]
    pub files: Vec<PathBuf>,
    /// Use this variant of the design
    #[arg(long, value_name = "NAME", value_hint = ValueHint::Other)]
    pub variant: Option<String>,
    /// Use what was measured in place of what was planned
    #[arg(long)]
    pub as_built: bool,
}

/// Where a document goes.
#[derive(Debug, Args)]
pub(super) struct To {
    /// Write it to this file, whole or not at all, instead of printing it
    #[arg(long, value_name = "PATH")]
    pub out: Option<PathBuf>,
    /// Put it in the place of a file that wallplate did not write
    #[arg(long, requires = "out")]
    pub replace: bool,
}

#[derive(Debug, Args)]
pub(super) struct TakeoffArgs {
    #[command(flatten)]
    pub design: Design,
    /// How to write it
    #[arg(long, value_enum, default_value_t = TakeoffFormat::Text)]
    pub format: TakeoffFormat,
    #[command(flatten)]
    pub to: To,
}

#[derive(Debug, Clone, Copy, PartialEq, Eq, ValueEnum)]
pub(super) enum TakeoffFormat {
    /// For people
    Text,
    /// Tables for a page
    Markdown,
    /// For a spreadsheet: RFC 4180
    Csv,
}

#[derive(Debug, Args)]
pub(super) struct SequenceArgs {
    #[command(flatten)]
    pub design: Design,
    /// How to write it
    #[arg(long, value_enum, default_value_t = SequenceFormat::Text)]
    pub format: SequenceFormat,
    /// The first day of work, like 2027-05-03; without it days are counted
    #[arg(long, value_name = "DATE", value_parser = today::day, required_if_eq("format", "calendar"))]
    pub start: Option<Date>,
    #[command(flatten)]
    pub to: To,
}

#[derive(Debug, Clone, Copy, PartialEq, Eq, ValueEnum)]
pub(super) enum SequenceFormat {
    /// For people
    Text,
    /// Tables for a page
    Markdown,
    /// A bar chart: SVG
    Chart,
    /// For a calendar: iCalendar, RFC 5545
    Calendar,
}

#[derive(Debug, Args)]
pub(super) struct CardsArgs {
    #[command(flatten)]
    pub design: Design,
    /// How to write them
    #[arg(long, value_enum, default_value_t = CardsFormat::Text)]
    pub format: CardsFormat,
    #[command(flatten)]
    pub to: To,
}

#[derive(Debug, Clone, Copy, PartialEq, Eq, ValueEnum)]
pub(super) enum CardsFormat {
    /// For people
    Text,
    /// Lists for a page
    Markdown,
    /// To print, one card a page
    Html,
}

#[derive(Debug, Args)]
pub(super) struct ControlArgs {
    #[command(flatten)]
    pub design: Design,
    /// Tell also what any two faults together break that neither breaks alone: it may take minutes
    #[arg(long)]
    pub pairs: bool,
    #[command(flatten)]
    pub to: To,
}

/// The command that this process was started with.
pub(super) fn read() -> Result<Command, clap::Error> {
    let colour = if terminal::look().colour { ColorChoice::Always } else { ColorChoice::Never };
    let matches = Program::command().color(colour).try_get_matches()?;
    let program = Program::from_arg_matches(&matches)?;
    if program.narrated {
        terminal::narrate();
    }
    Ok(program.command)
}
