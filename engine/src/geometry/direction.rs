//! Directions from what is read on the car, and back.
//!
//! Two ways of reading a line are in use and are not the same. Looked at from the side, or in a side view drawn on
//! paper, one reads the slope of its *projection*: `side`, tan(side) = drop/run. A protractor laid *along* the line
//! reads its true elevation: `fall`, sin(fall) = drop/length. Both are positive where the line falls toward the rear.
//! In plan both are measured alike: `plan`, tan(plan) = drift/run, positive where the line runs right toward the rear.
//! At 10° and 10° in plan the two differ by 0.15°. Plain analytic geometry.

use super::vector::Vector;
use crate::diagnostic::Refusal;
use crate::quantity::{Dimension, Quantity};
use crate::tape::{self, Number, Relation};

type Result<T> = std::result::Result<T, Refusal>;

/// The rearward unit vector of a line seen in side view at `side` (positive: falls to the rear) and in plan at `plan`
/// (positive: runs right to the rear): along (1, tan plan, −tan side).
///
/// # Errors
/// What is not an angle, or not between −90° and 90°: it would not run rearward.
pub fn direction_from_views(side: Quantity, plan: Quantity) -> Result<Vector> {
    let side_angle = steep(side, "the slope in side view")?;
    let plan_angle = steep(plan, "the slope in plan")?;
    let (cos_side, cos_plan) = (tape::cos(side_angle), tape::cos(plan_angle));
    // (1, tan plan, −tan side) times both cosines: no tangent runs off near 90°.
    let along = [
        cos_side * cos_plan,
        cos_side * tape::sin(plan_angle),
        -(tape::sin(side_angle) * cos_plan),
    ];
    Vector::of(along, Dimension::NONE).direction_of()
}

/// The rearward unit vector of a line along which a protractor reads `fall` (positive: falls to the rear), and which
/// runs at `plan` in plan (positive: right to the rear): (cos fall · cos plan, cos fall · sin plan, −sin fall).
///
/// # Errors
/// What is not an angle, or not between −90° and 90°.
pub fn direction_from_level(fall: Quantity, plan: Quantity) -> Result<Vector> {
    let fall_angle = steep(fall, "the fall")?;
    let plan_angle = steep(plan, "the slope in plan")?;
    let level = tape::cos(fall_angle);
    let along = [
        level * tape::cos(plan_angle),
        level * tape::sin(plan_angle),
        -tape::sin(fall_angle),
    ];
    Ok(Vector::of(along, Dimension::NONE))
}

impl Vector {
    /// What a protractor laid along it reads: its elevation, positive where it falls, −90° to 90°.
    ///
    /// # Errors
    /// The zero vector.
    pub fn fall(self) -> Result<Quantity> {
        let [x, y, z] = self.unit("the direction")?;
        Ok(angle(tape::atan2(-z, tape::norm(&[x, y]))))
    }

    /// Its slope in plan: positive where it runs right going rearward; ±180° for one that points forward, 0 for one
    /// that stands upright.
    ///
    /// # Errors
    /// The zero vector.
    pub fn plan(self) -> Result<Quantity> {
        let [x, y, _] = self.unit("the direction")?;
        Ok(angle(tape::atan2(y, x)))
    }

    /// Its slope seen in side view: positive where it falls going rearward; ±180° for one that points forward, 0 for
    /// one that points straight across.
    ///
    /// # Errors
    /// The zero vector.
    pub fn side(self) -> Result<Quantity> {
        let [x, _, z] = self.unit("the direction")?;
        Ok(angle(tape::atan2(-z, x)))
    }
}

pub(super) const fn angle(radians: Number) -> Quantity {
    Quantity::of(radians, Dimension::ANGLE)
}

/// An angle strictly between −90° and 90°, radians.
fn steep(angle: Quantity, what: &str) -> Result<Number> {
    let radians = angle.expect(Dimension::ANGLE, what)?;
    let right = Number::constant(std::f64::consts::FRAC_PI_2);
    if tape::require(tape::abs(radians), Relation::Less, right) {
        return Ok(radians);
    }
    let message = format!("{what} must lie between -90° and 90°, this is {}", angle.described());
    Err(Refusal::new("range", message))
}
