//! A dial laid out.

use super::super::written;
use super::measure::{LINE, is_empty, lines_of, widest, wrapped};
use super::placer::{Placer, around};
use super::scene::{Anchor, Coordinate, Form, Function, Linear, Scene, Spot, now, still};
use crate::figure::{Dial, Hand, HandKind, Sense, Zero};
use crate::kernel;
use crate::outcome::{Phrase, Piece};
use crate::quantity::text::System;
use std::f64::consts::{FRAC_PI_2, TAU};

const LOOKS: [&str; 5] = [
    "hand l0 arrow",
    "hand l1 arrow",
    "hand l2 arrow",
    "hand l3 arrow",
    "hand l4 arrow",
];
const ACROSS: [&str; 5] = ["hand l0", "hand l1", "hand l2", "hand l3", "hand l4"];

/// The dial on a page of a width.
pub(super) fn dial(dial: &Dial, system: System, width: f64) -> Scene {
    let radius = if width < 480.0 { 88.0 } else { 112.0 };
    let centre = [width / 2.0, radius + 34.0];
    let bottom = 2.0 * radius + 68.0;
    let mut layout = Layout {
        dial,
        system,
        scene: Scene {
            size: [width, bottom],
            frame: [0.0, 0.0, width, bottom],
            ..Scene::default()
        },
        centre,
        radius,
        placer: Placer::new([1.0, 0.0, width - 1.0, bottom]),
    };
    layout.rim();
    layout.arcs();
    for (nth, hand) in dial.hands.iter().enumerate() {
        layout.hand(nth, hand);
    }
    layout.labels();
    layout.close();
    layout.scene
}

struct Layout<'a> {
    dial: &'a Dial,
    system: System,
    scene: Scene,
    centre: [f64; 2],
    radius: f64,
    placer: Placer,
}

impl Layout<'_> {
    /// An angle of the dial as one of the page, counter-clockwise from the right.
    fn on_page(&self, angle: f64) -> f64 {
        let start = match self.dial.zero {
            Zero::Top => FRAC_PI_2,
            Zero::Right => 0.0,
        };
        start + self.sense() * angle
    }

    fn sense(&self) -> f64 {
        match self.dial.sense {
            Sense::Clockwise => -1.0,
            Sense::CounterClockwise => 1.0,
        }
    }

    fn rim_at(&self, angle: f64, share: f64) -> [f64; 2] {
        let turned = self.on_page(angle);
        let (x, y) = (kernel::cos(turned), kernel::sin(turned));
        [
            self.centre[0] + share * self.radius * x,
            self.centre[1] - share * self.radius * y,
        ]
    }

    fn rim(&mut self) {
        let centre = still(self.centre[0], self.centre[1]);
        let radii = [Coordinate::fixed(self.radius), Coordinate::fixed(self.radius)];
        self.scene.add("edge", false, Form::Ellipse { centre, radii });
        let hands = self.dial.hands.iter().map(|hand| hand.angle.si);
        let backward = hands
            .chain(self.dial.arcs.iter().map(|arc| arc.from.si))
            .any(|angle| angle < 0.0);
        for nth in 0..24_u8 {
            let angle = f64::from(nth) / 24.0 * TAU;
            let long = nth % 6 == 0;
            let inner = if long { 0.92 } else { 0.96 };
            self.scene
                .rule("edge", self.rim_at(angle, inner), self.rim_at(angle, 1.0));
            if long {
                let degrees = i32::from(nth) * 15;
                // Where a hand is counted backward, so is the rim.
                let degrees = if backward && degrees > 180 {
                    degrees - 360
                } else {
                    degrees
                };
                let text = format!("{degrees}°");
                let at = self.rim_at(angle, 1.0 + 14.0 / self.radius);
                let half = super::measure::width(&text) / 2.0;
                let at = [
                    at[0]
                        + if (at[0] - self.centre[0]).abs() > 5.0 {
                            half * (at[0] - self.centre[0]).signum() * 0.6
                        } else {
                            0.0
                        },
                    at[1] + 4.0,
                ];
                self.placer
                    .take([at[0] - half, at[1] - 11.0, at[0] + half, at[1] + 3.0]);
                self.scene.words("number", at, Anchor::Middle, &text);
            }
        }
        let mut before = self.rim_at(0.0, 1.0);
        for nth in 1..=24_u8 {
            let next = self.rim_at(f64::from(nth) / 24.0 * TAU, 1.0);
            self.placer.line(before, next);
            before = next;
        }
    }

    fn arcs(&mut self) {
        for arc in &self.dial.arcs {
            let centre = still(self.centre[0], self.centre[1]);
            let turned = Linear {
                at: self.on_page(0.0),
                by: self.sense(),
                function: Function::Same,
            };
            let angles = [turned.of(&arc.from), turned.of(&arc.to)];
            let radii = [self.radius; 2];
            self.scene.add("arc", false, Form::Arc { centre, radii, angles });
        }
    }

    /// The tip of a hand.
    fn tip(&self, hand: &Hand) -> Spot {
        let longest = self.dial.hands.iter().filter_map(|hand| hand.length.as_ref());
        let longest = longest.fold(0.0, |longest, length| kernel::max(longest, length.si.abs()));
        let unit = match &hand.length {
            Some(_) if longest > 0.0 => 0.9 * self.radius / longest,
            _ => 0.9 * self.radius,
        };
        let along = |at: f64, by: f64, amount| {
            let function = Function::Same;
            Linear { at, by, function }.of(amount)
        };
        let [across, up] = &hand.tip;
        [along(self.centre[0], unit, across), along(self.centre[1], -unit, up)]
    }

    fn hand(&mut self, nth: usize, hand: &Hand) {
        let tip = self.tip(hand);
        let centre = still(self.centre[0], self.centre[1]);
        let (look, from) = match hand.kind {
            HandKind::Arrow => (LOOKS[nth % LOOKS.len()], centre),
            HandKind::Old => ("old arrow", centre),
            HandKind::Across => (
                ACROSS[nth % ACROSS.len()],
                [mirrored(&tip[0], self.centre[0]), mirrored(&tip[1], self.centre[1])],
            ),
        };
        self.placer.line(now(&from), now(&tip));
        let places = vec![from, tip];
        self.scene.line(look, true, places);
    }

    /// Names beside the tips, with the angles.
    fn labels(&mut self) {
        for hand in &self.dial.hands {
            let mut name = hand.name.clone();
            if !is_empty(&name) {
                name.pieces.push(Piece::Words(" ".to_owned()));
            }
            name.pieces.push(Piece::Amount(hand.angle.clone()));
            let tip = self.tip(hand);
            self.label(&name, &tip, 6.0);
        }
        for arc in &self.dial.arcs {
            let middle = self.rim_at((arc.from.si + arc.to.si) / 2.0, 1.0);
            self.label(&arc.name, &still(middle[0], middle[1]), 6.0);
        }
    }

    fn label(&mut self, words: &Phrase, beside: &Spot, gap: f64) {
        let lines = wrapped(words, 120.0, self.system);
        let size = [widest(&lines, self.system), LINE * lines_of(&lines)];
        self.scene
            .spoken
            .push(format!("{}.", written::phrase(words, self.system)));
        let here = now(beside);
        // Outward from the middle, so that words stand clear of the hands.
        let out = [here[0] - self.centre[0], here[1] - self.centre[1]];
        let length = kernel::max(kernel::hypot(out[0], out[1]), 1.0);
        let mut corners = Vec::new();
        for away in [gap + 14.0, gap + 26.0, gap + 40.0] {
            let reach = kernel::max(self.radius + away - length, gap);
            let at = [here[0] + out[0] / length * reach, here[1] + out[1] / length * reach];
            let left = if out[0] >= 0.0 { at[0] } else { at[0] - size[0] };
            corners.push([left, at[1] - size[1] / 2.0]);
            corners.push([left, at[1] - size[1]]);
            corners.push([left, at[1]]);
        }
        corners.extend(around(here, size, gap));
        match self.placer.place(size, &corners) {
            Some(corner) => {
                self.lead(beside, [corner[0], corner[1], corner[0] + size[0], corner[1] + size[1]]);
                let at = [
                    beside[0].plus(corner[0] - here[0]),
                    beside[1].plus(corner[1] + 11.5 - here[1]),
                ];
                self.scene.text("label", true, at, lines);
            }
            None => {
                let at = still(0.0, self.scene.size[1] + 12.0);
                self.scene.size[1] += LINE * lines_of(&lines);
                self.scene.text("label", false, at, lines);
            }
        }
    }

    /// A thin line from a short hand to its words outside.
    fn lead(&mut self, tip: &Spot, room: [f64; 4]) {
        let [x, y] = now(tip);
        let nearest = [x.clamp(room[0], room[2]), y.clamp(room[1], room[3])];
        if kernel::hypot(nearest[0] - x, nearest[1] - y) > 44.0 {
            self.scene.rule("lead", [x, y], nearest);
        }
    }

    fn close(&mut self) {
        let way = match self.dial.sense {
            Sense::Clockwise => "clockwise",
            Sense::CounterClockwise => "counter-clockwise",
        };
        let from = match self.dial.zero {
            Zero::Top => "the top",
            Zero::Right => "the right",
        };
        let words = format!("Counted {way} from {from}.");
        self.scene.spoken.push(words.clone());
        let at = [0.0, self.scene.size[1] + 12.0];
        self.scene.words("soft", at, Anchor::Start, &words);
        self.scene.size[1] += LINE + 4.0;
    }
}

/// The place on the other side of a centre.
fn mirrored(coordinate: &Coordinate, centre: f64) -> Coordinate {
    Coordinate::fixed(2.0 * centre).minus(coordinate)
}
