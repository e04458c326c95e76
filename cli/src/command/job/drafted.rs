//! Scripts made into a job: their runs' names, and links among them.

use crate::inquiry::Inquiry;
use crate::packs::Desk;
use crate::shelf::has_extension;
use crate::work::Work;
use crankline_engine::diagnostic::{Diagnostic, Refusal, SourceText};
use crankline_engine::job::{Job, Proposal, ProposedLink, propose};
use crankline_engine::outcome::{Outcome, Phrase};
use crankline_engine::quantity::text::System;
use crankline_engine::report::{Draft, DraftLink, DraftRun, draft};

type Result<T> = std::result::Result<T, Diagnostic>;

/// A new job.
pub(super) struct Drafted {
    /// The text of its file.
    pub(super) text: String,
    /// The same, read and asked.
    pub(super) inquiry: Inquiry,
    /// What is to be said of its links, a margin word and a line each.
    pub(super) remarks: Vec<(&'static str, String)>,
}

/// A new job's names: its file, its title, its folder.
pub(super) struct Named<'a> {
    pub(super) file: &'a str,
    pub(super) title: &'a str,
    pub(super) folder: &'a Desk,
}

/// Scripts as one job that stands in no file.
pub(in crate::command) fn in_memory(scripts: &[String], units: Option<System>, desk: &Desk) -> Result<Inquiry> {
    let named = Named {
        file: "the scripts together",
        title: "scripts",
        folder: desk,
    };
    Ok(drafted(&named, scripts, scripts, units, desk)?.inquiry)
}

/// Makes a job of scripts. `scripts` names them as seen from `desk`, `written` as seen from the job's folder.
pub(super) fn drafted(
    named: &Named<'_>,
    scripts: &[String],
    written: &[String],
    units: Option<System>,
    desk: &Desk,
) -> Result<Drafted> {
    let mut outcomes = Vec::new();
    for script in scripts {
        outcomes.push(outcome(script, desk)?);
    }
    let drafting = Drafting {
        named,
        proposal: propose(&outcomes),
        names: names(scripts),
        written,
        outcomes: &outcomes,
        system: units.unwrap_or(System::Metric),
    };
    let links = drafting.links_that_run()?;
    let bare = drafting.inquiry(drafting.text(&links, None))?;
    let text = drafting.text(&links, Some(&bare));
    let inquiry = drafting.inquiry(text.clone())?;
    nothing_is_entered(inquiry.work.job())?;
    inquiry.work.ran()?;
    Ok(Drafted {
        text,
        inquiry,
        remarks: drafting.remarks(&links),
    })
}

/// Refuses a text that says more than its runs and links: nobody has measured or chosen anything yet. What scripts say of
/// themselves stands in remarks, and no remark may end before its words do.
fn nothing_is_entered(job: &Job) -> Result<()> {
    let entered = job.readings.iter().map(|reading| reading.name.as_str());
    let set = job
        .runs
        .iter()
        .flat_map(|run| &run.with)
        .chain(job.options.iter().flat_map(|option| &option.set));
    let Some(name) = entered.chain(set.map(|setting| setting.name.as_str())).next() else {
        return Ok(());
    };
    let message = format!("a text of these scripts would enter `{name}` into the job as if somebody had measured it");
    Err(Refusal::new("job", message)
        .hint("ask whoever wrote the scripts")
        .into())
}

/// What a script yields on its own examples.
fn outcome(script: &str, desk: &Desk) -> Result<Outcome> {
    if has_extension(script, "toml") {
        let refusal = Refusal::new("job", format!("`{script}` is no script: a job is made of scripts"));
        return Err(refusal.hint("crankline list shows them").into());
    }
    let ran = Work::open(script, desk)?.ran()?;
    let lost = || Refusal::new("job", format!("`{script}` yields nothing"));
    Ok(ran.outcomes().into_iter().next().ok_or_else(lost)?)
}

/// A name for each run, unlike all others: `joint angles` of `driveline/joint-angles`.
fn names(scripts: &[String]) -> Vec<String> {
    let mut names: Vec<String> = Vec::new();
    for script in scripts {
        let last = script.rsplit(['/', '\\']).next().unwrap_or(script);
        let own = last.strip_suffix(".rhai").unwrap_or(last).replace(['-', '_'], " ");
        let numbered = (2..).map(|number| format!("{own} {number}"));
        let mut candidates = std::iter::once(own.clone()).chain(numbered);
        names.extend(candidates.find(|name| !names.contains(name)));
    }
    names
}

struct Drafting<'a> {
    named: &'a Named<'a>,
    names: Vec<String>,
    written: &'a [String],
    outcomes: &'a [Outcome],
    proposal: Proposal<'a>,
    system: System,
}

impl Drafting<'_> {
    /// All links, or where the examples do not fit together with them those that do.
    fn links_that_run(&self) -> Result<Vec<ProposedLink<'_>>> {
        let runs = |links: &[ProposedLink<'_>]| self.inquiry(self.text(links, None))?.work.ran().map_err(told);
        let proposed = &self.proposal.links;
        if runs(proposed).is_ok() {
            return Ok(proposed.clone());
        }
        let mut kept = Vec::new();
        for link in proposed {
            kept.push(*link);
            if runs(&kept).is_err() {
                kept.pop();
            }
        }
        runs(&kept)?;
        Ok(kept)
    }

    fn inquiry(&self, text: String) -> Result<Inquiry> {
        let name = self.named.file.to_owned();
        Inquiry::of_text(SourceText { name, text }, self.named.folder, None).map_err(told)
    }

    fn text(&self, links: &[ProposedLink<'_>], asked: Option<&Inquiry>) -> String {
        let run = |(number, (name, script)): (usize, (&String, &String))| DraftRun {
            name: name.clone(),
            script: script.clone(),
            links: self.links_of(number, links),
        };
        draft(&Draft {
            file: self.named.file.to_owned(),
            title: self.named.title.to_owned(),
            system: self.system,
            runs: self.names.iter().zip(self.written).enumerate().map(run).collect(),
            wanted: asked.map_or(&[], |asked| asked.wanted.as_slice()),
        })
    }

    fn links_of<'b>(&'b self, run: usize, links: &'b [ProposedLink<'b>]) -> Vec<DraftLink<'b>> {
        let own = links
            .iter()
            .chain(&self.proposal.doubtful)
            .filter(|link| link.run == run);
        let input = |name: &str| {
            let inputs = &self.outcomes.get(run)?.inputs;
            inputs.iter().find(|input| input.name == name)?.label.as_ref()
        };
        let is_doubtful = |link: &ProposedLink<'_>| self.proposal.doubtful.contains(link);
        let linked = own.map(|link| DraftLink {
            name: link.name,
            label: input(link.name),
            run: self.names.get(link.from).cloned().unwrap_or_default(),
            step: link.name,
            doubtful: self.step_label(link).filter(|_| is_doubtful(link)),
        });
        linked.collect()
    }

    fn step_label(&self, link: &ProposedLink<'_>) -> Option<&Phrase> {
        let steps = &self.outcomes.get(link.from)?.steps;
        steps.iter().find(|step| step.name == link.name)?.label.as_ref()
    }

    fn remarks(&self, kept: &[ProposedLink<'_>]) -> Vec<(&'static str, String)> {
        let name = |run: usize| self.names.get(run).map_or("", String::as_str);
        let of_link = |link: &ProposedLink<'_>| {
            let (run, step, from) = (name(link.run), link.name, name(link.from));
            match kept.contains(link) {
                true => ("LINKED", format!("{run} takes {step} from {from}")),
                false => {
                    let why = "its example is not fit for it";
                    ("NOT LINKED", format!("{run} could take {step} from {from}, but {why}"))
                }
            }
        };
        let proposal = &self.proposal;
        let reversed = proposal.reversed.iter().map(|link| {
            let (run, step, from) = (name(link.run), link.name, name(link.from));
            (
                "ORDER",
                format!("{from} works out {step}: put before {run}, it could be linked"),
            )
        });
        let doubtful = proposal.doubtful.iter().map(|link| {
            let (run, step, from) = (name(link.run), link.name, name(link.from));
            let told = format!("{run} wants {step}, and {from} has a step of that name that says something else");
            ("LOOK", format!("{told}: left as a remark in the file"))
        });
        proposal
            .links
            .iter()
            .map(of_link)
            .chain(doubtful)
            .chain(reversed)
            .collect()
    }
}

/// An error about a file that is not there yet is told without a place in it.
fn told(error: Diagnostic) -> Diagnostic {
    if error.refusal.code() != "unlike inputs" {
        return error;
    }
    let message = format!("these scripts mean two things by one name: {}", error.refusal.message());
    let refusal = Refusal::new("unlike inputs", message);
    refusal
        .hint("make the job without one of them, and add its [[run]] by hand, with `with` or `from` for that input")
        .into()
}
