//! A direction, a displacement, a force: three numbers that measure the same.

use super::triple::{self, Triple};
use crate::diagnostic::Refusal;
use crate::quantity::{Dimension, Quantity, words};
use crate::tape::Number;

/// Three components of one dimension: a direction has none, a displacement is a length, a force a force.
#[derive(Clone, Copy, Debug)]
pub struct Vector {
    components: Triple,
    dimension: Dimension,
}

type Result<T> = std::result::Result<T, Refusal>;

#[allow(
    clippy::should_implement_trait,
    reason = "unlike the operators' traits, these may refuse"
)]
impl Vector {
    /// From three quantities that measure the same.
    ///
    /// # Errors
    /// Unlike dimensions; temperatures on the scale.
    pub fn new(x: Quantity, y: Quantity, z: Quantity) -> Result<Self> {
        let dimension = x.dimension();
        for (name, component) in [("y", y), ("z", z)] {
            if !component.dimension().is_like(dimension) {
                let message = format!(
                    "a vector's components must measure the same: x is {}, {name} is {}",
                    x.described(),
                    component.described()
                );
                return Err(Refusal::new("dimension", message).hint("a zero needs its unit too: 0.mm, 0.N"));
            }
        }
        let components = [
            x.expect(dimension, "a vector's x")?,
            y.expect(dimension, "a vector's y")?,
            z.expect(dimension, "a vector's z")?,
        ];
        Ok(Self::of(components, dimension))
    }

    /// From three numbers in SI units and what they measure.
    #[must_use]
    pub const fn of(components: [Number; 3], dimension: Dimension) -> Self {
        Self { components, dimension }
    }

    /// Its components, SI units.
    #[must_use]
    pub const fn components(self) -> [Number; 3] {
        self.components
    }

    /// What its components measure.
    #[must_use]
    pub const fn dimension(self) -> Dimension {
        self.dimension
    }

    /// The component toward the rear.
    #[must_use]
    pub const fn x(self) -> Quantity {
        Quantity::of(self.components[0], self.dimension)
    }

    /// The component to the right.
    #[must_use]
    pub const fn y(self) -> Quantity {
        Quantity::of(self.components[1], self.dimension)
    }

    /// The component upward.
    #[must_use]
    pub const fn z(self) -> Quantity {
        Quantity::of(self.components[2], self.dimension)
    }

    /// Its components, if they have the dimension asked for.
    ///
    /// # Errors
    /// Names both dimensions.
    pub fn expect(self, dimension: Dimension, what: &str) -> Result<[Number; 3]> {
        if self.dimension == dimension {
            return Ok(self.components);
        }
        let message = format!("{what} must be {}, this is {}", vector_of(dimension), self.kind());
        Err(Refusal::new("dimension", message))
    }

    /// Its kind in words: "a vector (length)".
    #[must_use]
    pub fn kind(self) -> String {
        vector_of(self.dimension)
    }

    /// a + b
    ///
    /// # Errors
    /// Unlike dimensions.
    pub fn add(self, other: Self) -> Result<Self> {
        self.same_kind(other, "add")?;
        Ok(Self::of(triple::add(self.components, other.components), self.dimension))
    }

    /// a − b
    ///
    /// # Errors
    /// Unlike dimensions.
    pub fn sub(self, other: Self) -> Result<Self> {
        self.same_kind(other, "subtract")?;
        Ok(Self::of(triple::sub(self.components, other.components), self.dimension))
    }

    /// −a
    #[must_use]
    pub fn neg(self) -> Self {
        Self::of(triple::negate(self.components), self.dimension)
    }

    /// Each component times a quantity.
    ///
    /// # Errors
    /// A temperature on the scale.
    pub fn mul(self, by: Quantity) -> Result<Self> {
        Self::new(self.x().mul(by)?, self.y().mul(by)?, self.z().mul(by)?)
    }

    /// Each component over a quantity.
    ///
    /// # Errors
    /// A temperature on the scale; a divisor that is zero.
    pub fn div(self, by: Quantity) -> Result<Self> {
        Self::new(self.x().div(by)?, self.y().div(by)?, self.z().div(by)?)
    }

    /// The scalar product a·b.
    ///
    /// # Errors
    /// Powers of units beyond what is counted.
    pub fn dot(self, other: Self) -> Result<Quantity> {
        let dimension = self.product_dimension(other)?;
        Ok(Quantity::of(triple::dot(self.components, other.components), dimension))
    }

    /// The vector product a × b, right-handed.
    ///
    /// # Errors
    /// Powers of units beyond what is counted.
    pub fn cross(self, other: Self) -> Result<Self> {
        let dimension = self.product_dimension(other)?;
        Ok(Self::of(triple::cross(self.components, other.components), dimension))
    }

    /// Its length |a|.
    #[must_use]
    pub fn norm(self) -> Quantity {
        Quantity::of(triple::norm(self.components), self.dimension)
    }

    /// The vector of length one that points the same way; plain numbers.
    ///
    /// # Errors
    /// The zero vector, which points nowhere.
    pub fn direction_of(self) -> Result<Self> {
        Ok(Self::of(self.unit("the vector")?, Dimension::NONE))
    }

    /// The unit vector's components.
    pub(super) fn unit(self, what: &str) -> Result<Triple> {
        triple::unit(self.components, 0.0, || {
            Refusal::new("zero vector", format!("{what} is zero: it points nowhere"))
        })
    }

    fn same_kind(self, other: Self, verb: &str) -> Result<()> {
        if self.dimension.is_like(other.dimension) {
            return Ok(());
        }
        let message = format!("cannot {verb} {} and {}", self.kind(), other.kind());
        Err(Refusal::new("dimension", message))
    }

    fn product_dimension(self, other: Self) -> Result<Dimension> {
        self.dimension.product(other.dimension).ok_or_else(|| {
            let message = "the power of a unit leaves what is counted (halves, thirds and quarters up to 100)";
            Refusal::new("dimension", message)
        })
    }
}

/// "a direction (plain numbers)", "a vector (length)"
fn vector_of(dimension: Dimension) -> String {
    if dimension.is_none() {
        return "a direction (plain numbers)".to_owned();
    }
    format!("a vector ({})", words::name_of(dimension))
}
