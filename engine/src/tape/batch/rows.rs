//! A row of lanes, and the loop over it.

/// How many samples one row holds.
///
/// 64 and 128 measured alike on a script of three hundred steps, 32 at half the speed, as choosing the steps shows. 64
/// keeps twice as many rows near, and wastes less where samples are few.
pub const LANES: usize = 64;

/// One number for each sample of a block, aligned to whole vectors.
#[derive(Clone, Debug)]
#[repr(align(64))]
pub(super) struct Row(pub(super) [f64; LANES]);

impl Row {
    pub(super) const fn filled(value: f64) -> Self {
        Self([value; LANES])
    }
}

/// The place of a row among the rows of a block.
pub(super) type Place = u32;

/// The row that is written, and the others, which are read: a result never stands on one of its own arguments.
pub(super) struct Others<'a> {
    before: &'a [Row],
    after: &'a [Row],
}

#[inline(always)]
pub(super) fn apart(rows: &mut [Row], out: Place) -> (Others<'_>, &mut Row) {
    let (before, rest) = rows.split_at_mut(out as usize);
    let (out, after) = rest.split_first_mut().expect("a program's places lie within its rows");
    (Others { before, after }, out)
}

impl Others<'_> {
    #[inline(always)]
    pub(super) fn row(&self, place: Place) -> &[f64; LANES] {
        let place = place as usize;
        let count = self.before.len();
        if place < count {
            &self.before[place].0
        } else {
            &self.after[place - count - 1].0
        }
    }
}

/// Fills the row at `out`, lane by lane, with an expression of the same lane of other rows:
/// `fill!(rows, out; a = 3, b = 4 => a + b)`.
///
/// A macro and no function of a closure: the compiler inlines a closure where it thinks it pays, and a kernel that it does
/// not inline is compiled for the plainest processor.
macro_rules! fill {
    ($rows:expr, $out:expr; $($name:ident = $place:expr),+ => $value:expr) => {{
        let (others, out) = $crate::tape::batch::rows::apart($rows, $out);
        $(let $name = others.row($place);)+
        for lane in 0..$crate::tape::batch::rows::LANES {
            $(let $name = $name[lane];)+
            out.0[lane] = $value;
        }
    }};
}
pub(super) use fill;
