//! What a number measures: powers of the six base dimensions.
//!
//! Angle is a base dimension here, though SI counts it as a plain number, because 3° and 3 rpm are not 3 and 3 Hz.
//! It is dropped where the trade's formulas drop it (an arc, the power of a torque), see [`Dimension::product`].
//! Words for dimensions are in `words.rs`, units in `units/`.

/// Powers are counted in twelfths, so that roots of roots stay exact.
const WHOLE: i16 = 12;

/// The six base dimensions, in the order in which [`Dimension`] holds their powers.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Base {
    /// metre
    Length,
    /// kilogram
    Mass,
    /// second
    Time,
    /// ampere
    Current,
    /// kelvin
    Temperature,
    /// radian
    Angle,
}

impl Base {
    /// All six, in their order.
    pub const ALL: [Self; 6] = [
        Self::Length,
        Self::Mass,
        Self::Time,
        Self::Current,
        Self::Temperature,
        Self::Angle,
    ];
}

/// Powers of the base dimensions.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub struct Dimension {
    twelfths: [i16; 6],
}

impl Dimension {
    /// A plain number.
    pub const NONE: Self = Self::of(0, 0, 0, 0, 0, 0);
    /// Length, m.
    pub const LENGTH: Self = Self::of(1, 0, 0, 0, 0, 0);
    /// Mass, kg.
    pub const MASS: Self = Self::of(0, 1, 0, 0, 0, 0);
    /// Time, s.
    pub const TIME: Self = Self::of(0, 0, 1, 0, 0, 0);
    /// Electric current, A.
    pub const CURRENT: Self = Self::of(0, 0, 0, 1, 0, 0);
    /// Temperature, K.
    pub const TEMPERATURE: Self = Self::of(0, 0, 0, 0, 1, 0);
    /// Angle, rad.
    pub const ANGLE: Self = Self::of(0, 0, 0, 0, 0, 1);
    /// Area, m².
    pub const AREA: Self = Self::of(2, 0, 0, 0, 0, 0);
    /// Volume or section modulus, m³.
    pub const VOLUME: Self = Self::of(3, 0, 0, 0, 0, 0);
    /// Second moment of area, m⁴.
    pub const SECOND_MOMENT: Self = Self::of(4, 0, 0, 0, 0, 0);
    /// A plain rate, 1/s.
    pub const RATE: Self = Self::of(0, 0, -1, 0, 0, 0);
    /// Angular speed, rad/s.
    pub const ANGULAR_SPEED: Self = Self::of(0, 0, -1, 0, 0, 1);
    /// Angular acceleration, rad/s².
    pub const ANGULAR_ACCELERATION: Self = Self::of(0, 0, -2, 0, 0, 1);
    /// Speed, m/s.
    pub const SPEED: Self = Self::of(1, 0, -1, 0, 0, 0);
    /// Acceleration, m/s².
    pub const ACCELERATION: Self = Self::of(1, 0, -2, 0, 0, 0);
    /// Density, kg/m³.
    pub const DENSITY: Self = Self::of(-3, 1, 0, 0, 0, 0);
    /// Mass per length, kg/m.
    pub const LINE_DENSITY: Self = Self::of(-1, 1, 0, 0, 0, 0);
    /// Mass per area, kg/m².
    pub const AREA_DENSITY: Self = Self::of(-2, 1, 0, 0, 0, 0);
    /// Mass flow, kg/s.
    pub const MASS_FLOW: Self = Self::of(0, 1, -1, 0, 0, 0);
    /// Volume flow, m³/s.
    pub const VOLUME_FLOW: Self = Self::of(3, 0, -1, 0, 0, 0);
    /// Unbalance of a turning part, a mass times its distance from the axis, kg m.
    pub const UNBALANCE: Self = Self::of(1, 1, 0, 0, 0, 0);
    /// Moment of inertia, kg m².
    pub const INERTIA: Self = Self::of(2, 1, 0, 0, 0, 0);
    /// Force, N.
    pub const FORCE: Self = Self::of(1, 1, -2, 0, 0, 0);
    /// Force per length, N/m (a stiffness too).
    pub const FORCE_PER_LENGTH: Self = Self::of(0, 1, -2, 0, 0, 0);
    /// Torque or energy, N m.
    pub const TORQUE: Self = Self::of(2, 1, -2, 0, 0, 0);
    /// Bending stiffness, N m².
    pub const BENDING_STIFFNESS: Self = Self::of(3, 1, -2, 0, 0, 0);
    /// Stress or pressure, Pa.
    pub const PRESSURE: Self = Self::of(-1, 1, -2, 0, 0, 0);
    /// Power, W.
    pub const POWER: Self = Self::of(2, 1, -3, 0, 0, 0);
    /// Heat flow per area, W/m².
    pub const HEAT_FLUX: Self = Self::of(0, 1, -3, 0, 0, 0);
    /// Thermal conductivity, W/(m K).
    pub const CONDUCTIVITY: Self = Self::of(1, 1, -3, 0, -1, 0);
    /// Heat transfer coefficient, W/(m² K).
    pub const HEAT_TRANSFER: Self = Self::of(0, 1, -3, 0, -1, 0);
    /// Electric charge, C.
    pub const CHARGE: Self = Self::of(0, 0, 1, 1, 0, 0);
    /// Voltage, V.
    pub const VOLTAGE: Self = Self::of(2, 1, -3, -1, 0, 0);
    /// Resistance, ohm.
    pub const RESISTANCE: Self = Self::of(2, 1, -3, -2, 0, 0);
    /// Resistance per length, ohm/m.
    pub const RESISTANCE_PER_LENGTH: Self = Self::of(1, 1, -3, -2, 0, 0);
    /// Resistivity, ohm m.
    pub const RESISTIVITY: Self = Self::of(3, 1, -3, -2, 0, 0);
    /// Thermal expansion, 1/K.
    pub const EXPANSION: Self = Self::of(0, 0, 0, 0, -1, 0);

    /// Whole powers of length, mass, time, current, temperature and angle.
    #[must_use]
    pub const fn of(length: i16, mass: i16, time: i16, current: i16, temperature: i16, angle: i16) -> Self {
        Self {
            twelfths: [
                length * WHOLE,
                mass * WHOLE,
                time * WHOLE,
                current * WHOLE,
                temperature * WHOLE,
                angle * WHOLE,
            ],
        }
    }

    /// The power of one base dimension, in twelfths.
    #[must_use]
    pub const fn twelfths(self, base: Base) -> i16 {
        self.twelfths[base as usize]
    }

    /// The power of one base dimension.
    #[must_use]
    pub fn power_of(self, base: Base) -> f64 {
        f64::from(self.twelfths(base)) / f64::from(WHOLE)
    }

    /// Whether this is a plain number.
    #[must_use]
    pub fn is_none(self) -> bool {
        self == Self::NONE
    }

    /// The dimension of a product. An angle is dropped where a length but no time is in it (an arc, `R * angle`), and
    /// where a mass and a length are (`torque * omega` is a power, `m * r * omega**2` a force).
    /// `None` where a power leaves the range that is counted (far beyond anything physical).
    #[must_use]
    pub fn product(self, other: Self) -> Option<Self> {
        let mut twelfths = self.twelfths;
        for (mine, theirs) in twelfths.iter_mut().zip(other.twelfths) {
            *mine = mine.checked_add(theirs)?;
        }
        Some(Self { twelfths }.without_idle_angle())
    }

    /// The dimension of a quotient; angles as in [`Dimension::product`].
    #[must_use]
    pub fn quotient(self, other: Self) -> Option<Self> {
        self.product(other.inverse()?)
    }

    /// The dimension of the inverse.
    #[must_use]
    pub fn inverse(self) -> Option<Self> {
        let mut twelfths = self.twelfths;
        for mine in &mut twelfths {
            *mine = mine.checked_neg()?;
        }
        Some(Self { twelfths })
    }

    /// The dimension raised to a power that must be a fraction of twelfths: `power(1, 2)` is that of a square root.
    /// `None` where the result has no power in whole twelfths.
    #[must_use]
    pub fn power(self, numerator: i16, denominator: i16) -> Option<Self> {
        let mut twelfths = self.twelfths;
        for mine in &mut twelfths {
            let product = mine.checked_mul(numerator)?;
            if denominator == 0 || product % denominator != 0 {
                return None;
            }
            *mine = product / denominator;
        }
        Some(Self { twelfths }.without_idle_angle())
    }

    /// Whether quantities of the two may be added and compared. Without length and mass any power of an angle counts
    /// as an angle: β²·ω² compares with rad/s².
    #[must_use]
    pub fn is_like(self, other: Self) -> bool {
        let mut mine = self;
        let mut theirs = other;
        for dimension in [&mut mine, &mut theirs] {
            let free = dimension.twelfths(Base::Length) == 0 && dimension.twelfths(Base::Mass) == 0;
            if free && dimension.twelfths(Base::Angle) != 0 {
                dimension.twelfths[Base::Angle as usize] = WHOLE;
            }
        }
        mine == theirs
    }

    /// The same without its angle.
    #[must_use]
    pub const fn without_angle(mut self) -> Self {
        self.twelfths[Base::Angle as usize] = 0;
        self
    }

    /// Whether this is a speed, an acceleration, a flow or a mass flow that still holds an angle: `omega * r` before the
    /// writer said whether `r` is a radius (`/ 1.rad`) or so much a turn (`/ 1.turn`).
    #[must_use]
    pub fn is_motion_with_angle(self) -> bool {
        let bare = self.without_angle();
        let motions = [
            Self::SPEED,
            Self::ACCELERATION,
            Self::of(3, 0, -1, 0, 0, 0),
            Self::of(2, 0, -1, 0, 0, 0),
            Self::of(0, 1, -1, 0, 0, 0),
        ];
        self.twelfths(Base::Angle) != 0 && motions.contains(&bare)
    }

    fn without_idle_angle(self) -> Self {
        let has = |base| self.twelfths(base) != 0;
        let arc = has(Base::Length) && !has(Base::Time);
        let mechanical = has(Base::Length) && has(Base::Mass);
        if arc || mechanical { self.without_angle() } else { self }
    }
}
