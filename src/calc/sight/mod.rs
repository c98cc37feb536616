//! What is seen of bodies from one side: edges that show, edges that something hides, faces where a plane cuts.
//!
//! In: convex pieces in m (x to the right, y along the travel, z up), a direction to look, perhaps a depth at which all is
//! cut. Out: strokes and cut faces in the plane of the view, m. It must not know paper, nor what a piece is part of.
//!
//! Everything is parallel projection, as on a builder's sheet (ISO 5456-2, ISO 5456-3). Flat faces are exact: an edge is
//! hidden where the way from it to the eye leads through a body, and for a convex body those places are one stretch of
//! the edge, found by clipping. Round bodies show their outline; tubes have as many flats as a circle has to the eye.
//!
//! Reading order: [`eye`] → [`facets`] (pieces with faces and edges, and their cut) → [`stretch`] (what of an edge a body
//! hides) → [`strokes`] (no line twice, ends joined) → [`view`] (all of it).

pub mod eye;
pub mod facets;
mod stretch;
mod strokes;
pub mod view;

pub use eye::Eye;
pub use strokes::{Shown, Stroke};
pub use view::{Part, Seen, look};
