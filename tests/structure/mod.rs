//! Frames against published values, an outside solver, closed forms, and themselves.

mod arms;
mod bench;
mod building;
mod closed_forms;
mod crossmembers;
mod dense;
mod frequency;
mod identities;
mod large;
mod published;
mod releases;
mod sections;
mod tape;
mod unstable;
