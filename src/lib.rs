//! Wallplate: a language for writing a roll-off-roof observatory down once, and a checker that works
//! out the engineering and says, against the lines of the text, what holds and what does not.
//!
//! The modules stand in reading order, which is the journey of a line of text:
//! text → syntax → design → values → rules → output. None knows one that stands below it.

// What is read: source files and places in them.
pub mod text;

// A mistake in a text: its places, what to write instead.
pub mod problem;

// Dimensions and units, and how a number is printed in its author's.
pub mod units;

// Text → a tree that covers the whole of it.
pub mod syntax;

// The one standard layout of a text.
pub mod tidy;

// What the tool knows about observatories: kinds, catalogues, rules and papers in the language itself.
pub mod trade;

// Tree → components, their links and names, each expression with its sort; no number yet.
pub mod design;

// The engineering: pure functions of numbers, each with its source.
pub mod calc;

// Components → values, each with the lines that it stands on.
pub mod values;

// The formulas that expressions call: the engineering bound to the language by their declarations.
pub mod formulas;

// Values → findings: what holds, what does not, what cannot be said.
pub mod rules;

// Texts in, one checked design out: what the program, an editor and the tests all look at.
pub mod session;

// A checked design on paper, as plain data: sheets, what to buy, the order of work.
pub mod papers;

// Findings and papers as text, JSON, SARIF, HTML, SVG, DXF.
pub mod output;

// What an editor asks.
pub mod editor;

// The commands of the program; all that touches files and the clock.
pub mod cli;
