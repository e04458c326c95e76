//! What is said and shown: headings, notes, cautions, figures.

use super::doing::{Doing, Thrown};
use super::enough::{limit, within};
use crate::figure::{FIGURES, NUMBERS_IN_ALL, Shown};
use crate::script::grammar::{Keyword, Role};
use crate::script::{bind, run, value};

impl Doing<'_, '_, '_, '_, '_, '_, '_, '_> {
    pub(super) fn remark(&mut self) -> Thrown<()> {
        let Some(phrase) = self.phrase(Role::Value)? else {
            return Ok(());
        };
        let keyword = self.statement.keyword;
        run::with(|run| {
            let reached = run.recording.reached();
            match keyword {
                Keyword::Heading => run.heading = Some(phrase).filter(|phrase| !phrase.is_blank()),
                _ if phrase.is_blank() => {}
                Keyword::Caution if run.outcome.cautions.contains(&phrase) => {}
                Keyword::Caution => {
                    run.outcome.cautions.push(phrase);
                    run.outcome.cautions_reached.push(reached);
                }
                _ => {
                    run.outcome.notes.push(phrase);
                    run.outcome.notes_reached.push(reached);
                }
            }
            limit(run.outcome.notes.len().max(run.outcome.cautions.len()), "notes")
        })
        .map_err(value::thrown)
    }

    pub(super) fn show(&mut self) -> Thrown<()> {
        let value = self.needed(Role::Value)?;
        let figure = bind::figure(&value).map_err(|refusal| self.thrown_at(Role::Value, refusal))?;
        let label = self.said(Role::Label)?;
        let (_, place) = self.stands();
        run::with(|run| {
            run.drawn += figure.amounts().len();
            within(run.drawn, NUMBERS_IN_ALL, "the figures of a run may hold", "numbers")?;
            let heading = run.heading.clone();
            run.outcome.figures.push(Shown {
                label,
                figure,
                heading,
                place,
                reached: run.recording.reached(),
            });
            within(run.outcome.figures.len(), FIGURES, "a run may show", "figures")
        })
        .map_err(value::thrown)
    }
}
