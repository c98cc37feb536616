//! Fasteners in wood: nails, screws, lag screws, bolts, washers and rated connectors.
//!
//! In: diameters, densities, thicknesses, directions. Out: what one fastener carries pulled out, pushed sideways or both.
//! Files that begin with `en_` follow EN 1995-1-1, `rated` follows a maker's data sheet, the others the NDS 2018
//! (allowable stress design). It must not know a fastener's name: sizes and steels come from the catalogue.

pub mod adjustment;
pub mod bearing;
pub mod combined;
pub mod dowel_bearing;
pub mod en_axial;
pub mod en_embedment;
pub mod en_lateral;
pub mod en_layout;
pub mod group;
pub mod nds_layout;
pub mod rated;
pub mod withdrawal;
pub mod yield_limit;
