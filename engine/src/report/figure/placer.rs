//! Where labels go: beside what they name, over no other label, over as little of the drawing as can be.

/// Left, top, right, bottom.
pub(super) type Room = [f64; 4];

/// Finds places for labels.
#[derive(Clone, Debug, Default)]
pub(super) struct Placer {
    /// What labels stay within.
    page: Room,
    /// Room that is taken by words.
    taken: Vec<Room>,
    /// Places along drawn lines, each with the number of the line that it belongs to, where lines have names.
    ink: Vec<([f64; 2], Option<usize>)>,
}

/// How far along a line its ink is noted.
const STEP: f64 = 5.0;
/// Air between labels.
const AIR: f64 = 2.0;
/// Ink that is so near to the beginning or the end of words is in their way.
const NEAR: f64 = 2.5;

impl Placer {
    pub(super) const fn new(page: Room) -> Self {
        Self {
            page,
            taken: Vec::new(),
            ink: Vec::new(),
        }
    }

    /// Takes room.
    pub(super) fn take(&mut self, room: Room) {
        self.taken.push(room);
    }

    /// Notes a drawn line.
    pub(super) fn line(&mut self, from: [f64; 2], to: [f64; 2]) {
        self.line_of(from, to, None);
    }

    /// Notes a part of a line that has a name.
    pub(super) fn line_of(&mut self, from: [f64; 2], to: [f64; 2], owner: Option<usize>) {
        let span = [to[0] - from[0], to[1] - from[1]];
        let length = crate::kernel::hypot(span[0], span[1]);
        if !length.is_finite() || self.ink.len() > 50_000 {
            return;
        }
        #[allow(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "clamped")]
        let count = (length / STEP).clamp(1.0, 500.0) as u32;
        for nth in 0..=count {
            let share = f64::from(nth) / f64::from(count);
            let place = [from[0] + share * span[0], from[1] + share * span[1]];
            self.ink.push((place, owner));
        }
    }

    /// Takes the best of some rooms for a label of a size, by their left and upper corners, the first of equals; none
    /// where all would lie on another label or off the page.
    pub(super) fn place(&mut self, size: [f64; 2], corners: &[[f64; 2]]) -> Option<[f64; 2]> {
        self.place_of(size, corners, None)
    }

    /// The same for the name of a line: never nearer to another line than to its own.
    pub(super) fn place_of(&mut self, size: [f64; 2], corners: &[[f64; 2]], owner: Option<usize>) -> Option<[f64; 2]> {
        let sure = |room: Room| owner.is_none_or(|owner| !self.is_doubtful(room, owner));
        let (_, nth) = self.best(size, corners, None, sure)?;
        self.taken_at(size, corners, nth)
    }

    /// The same for words that in one of the rooms lie on a line of their own: by the room's number, and the line's.
    pub(super) fn place_on(&mut self, size: [f64; 2], corners: &[[f64; 2]], own: Option<[usize; 2]>) -> Option<usize> {
        let (_, nth) = self.best(size, corners, own, |_| true)?;
        self.taken_at(size, corners, nth)?;
        Some(nth)
    }

    /// What the best of some rooms would cost; without end where there is none.
    pub(super) fn cheapest(&self, size: [f64; 2], corners: &[[f64; 2]]) -> f64 {
        let best = self.best(size, corners, None, |_| true);
        best.map_or(f64::INFINITY, |(cost, _)| cost)
    }

    fn taken_at(&mut self, size: [f64; 2], corners: &[[f64; 2]], nth: usize) -> Option<[f64; 2]> {
        let corner = *corners.get(nth)?;
        self.take([corner[0], corner[1], corner[0] + size[0], corner[1] + size[1]]);
        Some(corner)
    }

    /// The cheapest of some rooms, the first of equals; in the room `own[0]` ink of the line `own[1]` costs nothing.
    fn best(
        &self,
        size: [f64; 2],
        corners: &[[f64; 2]],
        own: Option<[usize; 2]>,
        may: impl Fn(Room) -> bool,
    ) -> Option<(f64, usize)> {
        let mut best: Option<(f64, usize)> = None;
        for (nth, corner) in corners.iter().enumerate() {
            let room = [corner[0], corner[1], corner[0] + size[0], corner[1] + size[1]];
            let own = own.filter(|[room, _]| *room == nth).map(|[_, line]| line);
            let Some(cost) = self.cost(room, own).filter(|_| may(room)) else {
                continue;
            };
            // Corners further down the list are further off.
            #[allow(clippy::cast_precision_loss, reason = "a few dozen")]
            let cost = cost + 0.1 * nth as f64;
            if best.is_none_or(|(least, _)| cost < least) {
                best = Some((cost, nth));
            }
        }
        best
    }

    /// Whether another line is as near to a room as the one that it belongs to.
    fn is_doubtful(&self, room: Room, owner: usize) -> bool {
        let away = |place: &[f64; 2]| {
            let nearest = [place[0].clamp(room[0], room[2]), place[1].clamp(room[1], room[3])];
            crate::kernel::hypot(nearest[0] - place[0], nearest[1] - place[1])
        };
        let least = |own: bool| {
            let ink = self
                .ink
                .iter()
                .filter(|(_, line)| line.is_some_and(|line| (line == owner) == own));
            ink.map(|(place, _)| away(place))
                .fold(f64::INFINITY, crate::kernel::min)
        };
        least(false) < least(true) + 2.0
    }

    fn cost(&self, room: Room, own: Option<usize>) -> Option<f64> {
        let [left, top, right, bottom] = room;
        let finite = room.iter().all(|side| side.is_finite());
        let on_page = left >= self.page[0] && top >= self.page[1] && right <= self.page[2] && bottom <= self.page[3];
        let clear = self.taken.iter().all(|taken| !overlap(*taken, room));
        if !finite || !on_page || !clear {
            return None;
        }
        let covered = |(place, owner): &&([f64; 2], Option<usize>)| {
            let others = own.is_none() || *owner != own;
            others && place[0] > left - NEAR && place[0] < right + NEAR && place[1] > top && place[1] < bottom
        };
        #[allow(clippy::cast_precision_loss, reason = "at most 50 000")]
        Some(self.ink.iter().filter(covered).count() as f64)
    }
}

fn overlap(a: Room, b: Room) -> bool {
    a[0] < b[2] + AIR && b[0] < a[2] + AIR && a[1] < b[3] && b[1] < a[3]
}

/// Corners of rooms of a size around a place, nearest first: to the right, the left, above, below, between those.
pub(super) fn around(at: [f64; 2], size: [f64; 2], gap: f64) -> Vec<[f64; 2]> {
    let mut corners = Vec::new();
    for away in [gap, gap + 8.0, gap + 18.0, gap + 32.0, gap + 50.0] {
        let (right, left, middle) = (at[0] + away, at[0] - away - size[0], at[0] - size[0] / 2.0);
        let (above, below, level) = (at[1] - away - size[1], at[1] + away, at[1] - size[1] / 2.0);
        let near = 0.7 * away;
        let (upper, lower) = (at[1] - near - size[1], at[1] + near);
        corners.extend([
            [at[0] + near, upper],
            [right, level],
            [middle, above],
            [middle, below],
            [left, level],
            [at[0] + near, lower],
            [at[0] - near - size[0], upper],
            [at[0] - near - size[0], lower],
        ]);
    }
    corners
}
