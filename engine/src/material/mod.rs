//! Materials: what a tube, a panel or a wire is made of.
//!
//! | file | what it is |
//! |---|---|
//! | `properties.rs` | the properties, by the names that scripts use |
//! | `substance.rs` | [`Material`]: properties that are known, and where they come from |
//! | `custom.rs` | a material from a certificate or a data sheet |
//! | `table.rs` | the materials that come with the engine, read from `materials.toml` |
//! | `positive.rs` | a reading that must lie above zero |
//!
//! A property that a material lacks is an error, never zero. What is not here: fatigue, temperature, temper after
//! welding except the two strengths beside a weld; a mill certificate replaces any row.

mod custom;
mod positive;
mod properties;
mod substance;
mod table;

pub use custom::custom_material;
pub(crate) use positive::positive;
pub use properties::Property;
pub use substance::{Kind, Material};
pub use table::{material, material_names};
