//! A job, or a script by itself, run and judged.

use crate::deadline::Deadline;
use crate::disk;
use crate::packs::Desk;
use crate::shelf::{Found, Shelf, first_paragraph, has_extension, purpose};
use crankline_engine::diagnostic::{Diagnostic, Refusal, SourceText, nearest};
use crankline_engine::job::{Asked, Job, Overrides, Plan, PlannedRun, Programs, Ran, trial};
use crankline_engine::outcome::{Origin, Outcome};
use crankline_engine::quantity::text::System;
use crankline_engine::report::{Identity, SetValue, Sheet, SheetRun, TakenInput};
use crankline_engine::script::{Given, GivenValue, Inspection, Library, Program};
use crankline_engine::study::{Bands, Judged, bands, judge};
use std::path::{Component, Path};
use std::rc::Rc;

type Result<T> = std::result::Result<T, Diagnostic>;

/// What is to be run, with everything that it takes.
pub(crate) struct Work {
    shelf: Rc<Shelf>,
    library: Library,
    deadline: Deadline,
    job: Job,
    in_job: bool,
    /// The option whose values stand in place of the job's.
    option: Option<String>,
}

/// What came of it.
pub(crate) struct Done {
    pub(crate) ran: Ran,
    pub(crate) overrides: Overrides,
    pub(crate) outcomes: Vec<Outcome>,
    pub(crate) judged: Judged,
}

impl Work {
    /// A script by name, a `.rhai` file, or a job file.
    pub(crate) fn open(target: &str, desk: &Desk) -> Result<Self> {
        if !has_extension(target, "toml") {
            return Ok(Self::new(desk, Job::of_script(target), false));
        }
        let path = desk.directory.join(target);
        let folder = path.parent().unwrap_or(&desk.directory);
        Self::of_text(disk::read(&path, target)?, &desk.of_job_in(folder))
    }

    /// A job by its text, seen from its folder.
    pub(crate) fn of_text(text: SourceText, desk: &Desk) -> Result<Self> {
        let job = Job::read(text, &|name: &str| beside(&desk.directory, name))?;
        Ok(Self::new(desk, job, true))
    }

    /// One run of a script with a case's values.
    pub(crate) fn of_case(job: Job, desk: &Desk) -> Self {
        Self::new(desk, job, false)
    }

    fn new(desk: &Desk, job: Job, in_job: bool) -> Self {
        let shelf = Rc::new(Shelf::new(desk));
        let deadline = Deadline::new(job.runs.len(), desk.effort);
        let sources: Rc<Shelf> = Rc::clone(&shelf);
        let mut library = Library::new(sources);
        let clock = deadline.clone();
        library.stop_when(move || clock.is_over());
        library.allow(desk.effort);
        Self {
            shelf,
            library,
            deadline,
            job,
            in_job,
            option: None,
        }
    }

    /// The same with the values of one of the job's options in place of its own.
    pub(crate) fn trying(mut self, option: Option<&str>) -> Result<Self> {
        if let Some(option) = option {
            self.option = Some(self.option_named(option)?);
        }
        Ok(self)
    }

    /// The option of a name; a run that tries an option stands for it.
    pub(crate) fn option_named(&self, name: &str) -> std::result::Result<String, Refusal> {
        if !self.in_job {
            let refusal = Refusal::new("option", format!("`{name}` names an option, and a script has none"));
            return Err(refusal.hint("options stand in a job file, under [[option]]; --set tries a value of a script"));
        }
        if self.job.options.iter().any(|option| option.name == name) {
            return Ok(name.to_owned());
        }
        let run = self.job.runs.iter().find(|run| run.name == name);
        match run.map(|run| &run.tries) {
            Some(Some(option)) => Ok(option.clone()),
            run => Err(self.no_option(name, run.is_some())),
        }
    }

    fn no_option(&self, name: &str, is_run: bool) -> Refusal {
        let names: Vec<&str> = self.job.options.iter().map(|option| option.name.as_str()).collect();
        let message = if is_run {
            format!("`{name}` is a run that tries no option")
        } else {
            format!("the job has no option `{name}`")
        };
        let hint = match nearest(name, names.iter().copied()) {
            Some(near) => format!("did you mean `{near}`?"),
            None if names.is_empty() => "it has none at all; one stands under [[option]] in the job file".to_owned(),
            None => format!("its options are `{}`", names.join("`, `")),
        };
        Refusal::new("option", message).hint(hint)
    }

    /// Runs everything once and judges it; `settings` are values tried, `NAME=VALUE`.
    pub(crate) fn done(&self, settings: &[String], only: Option<&str>) -> Result<Done> {
        let overrides = self.overrides(settings)?;
        let programs = |name: &str| self.program(name);
        let plan = Plan::new(&self.job, &self.library, &programs, &overrides, self.only(only)?)?;
        let ran = plan.run(None)?;
        let outcomes = ran.outcomes();
        self.deadline.judgement();
        let judged = judge(&plan, &ran.tape, &outcomes, self.in_job);
        self.in_time()?;
        Ok(Done {
            ran,
            overrides,
            outcomes,
            judged,
        })
    }

    /// The bands of the lines of charts: for whoever draws them.
    pub(crate) fn bands(&self, done: &Done, only: Option<&str>) -> Result<Bands> {
        let programs = |name: &str| self.program(name);
        let plan = Plan::new(&self.job, &self.library, &programs, &done.overrides, self.only(only)?)?;
        self.deadline.judgement();
        let bands = bands(&plan, &done.ran.tape, &done.outcomes);
        self.in_time()?;
        Ok(bands)
    }

    /// Runs everything once, as it stands.
    pub(crate) fn ran(&self) -> Result<Ran> {
        self.plan(&|plan| plan.run(None))
    }

    /// Asks its plan for something.
    pub(crate) fn plan<T>(&self, ask: &dyn Fn(&Plan<'_>) -> Result<T>) -> Result<T> {
        let programs = |name: &str| self.program(name);
        let overrides = Overrides::new();
        ask(&Plan::new(&self.job, &self.library, &programs, &overrides, None)?)
    }

    /// Values that somebody tries, `NAME=VALUE`, and those of the option; what somebody tries wins.
    pub(crate) fn overrides(&self, settings: &[String]) -> Result<Overrides> {
        let mut overrides = overrides(settings)?;
        let option = self.option.as_ref().and_then(|option| self.job.option(option));
        let hidden = |name: &str| overrides.keys().any(|set| self.hides(set, name));
        let option = option.unwrap_or_default().into_iter();
        let visible: Vec<(String, Given)> = option.filter(|(name, _)| !hidden(name)).collect();
        overrides.extend(visible);
        Ok(overrides)
    }

    /// Whether what is set for one name leaves nothing of what an option sets for another: `wall` hides `wall`,
    /// `front shaft: wall` and `wall.x`.
    fn hides(&self, set: &str, option: &str) -> bool {
        let is_within = |address: &str| {
            let rest = address.strip_prefix(set);
            rest.is_some_and(|rest| rest.is_empty() || rest.starts_with(['.', '[']))
        };
        let mut of_runs = self.job.runs.iter().filter_map(|run| {
            let address = option.strip_prefix(&run.name)?;
            address.strip_prefix(": ")
        });
        is_within(option) || of_runs.any(is_within)
    }

    /// What a study with varied inputs is asked on.
    pub(crate) fn asked<'a>(
        &'a self,
        programs: &'a Programs<'a>,
        overrides: &'a Overrides,
        only: Option<&'a str>,
    ) -> Result<Asked<'a>> {
        Ok(Asked {
            job: &self.job,
            library: &self.library,
            programs,
            overrides,
            only: self.only(only)?,
        })
    }

    /// The one run asked for, which a job alone has.
    pub(crate) fn only<'a>(&self, only: Option<&'a str>) -> Result<Option<&'a str>> {
        if only.is_some() && !self.in_job {
            return Err(Refusal::new("only", "--only names a run of a job; a script is one run").into());
        }
        Ok(only)
    }

    /// A script looked through without readings; `more` is what it yields for other values.
    pub(crate) fn inspected(&self, name: &str, more: &[Outcome]) -> Result<(Identity, Inspection)> {
        let found = self.script(name)?;
        let identity = Identity::of(&found.text, found.pack_version);
        Ok((identity, self.library.inspect(found.text, more)))
    }

    /// A script, read and ready.
    pub(crate) fn program(&self, name: &str) -> Result<Program> {
        self.library.compile(self.script(name)?.text)
    }

    pub(crate) fn job(&self) -> &Job {
        &self.job
    }

    pub(crate) fn library(&self) -> &Library {
        &self.library
    }

    /// The option whose values stand in place of the job's.
    pub(crate) fn option(&self) -> Option<&str> {
        self.option.as_deref()
    }

    pub(crate) fn in_job(&self) -> bool {
        self.in_job
    }

    /// Gives the study that follows its own time.
    pub(crate) fn study(&self) {
        self.deadline.study();
    }

    /// Gives the study that follows the time of a long one.
    pub(crate) fn long_study(&self) {
        self.deadline.long_study();
    }

    /// What was stopped is no result.
    pub(crate) fn in_time(&self) -> Result<()> {
        if self.deadline.was_missed() {
            let message = "running the script again for samples within the ± takes too long";
            let refusal = Refusal::new("limit", message);
            return Err(refusal
                .hint("--effort 10 gives it ten times as long, for this one run")
                .into());
        }
        Ok(())
    }

    fn script(&self, name: &str) -> Result<Found> {
        self.shelf.script(name)
    }

    /// The text of its first script.
    pub(crate) fn text(&self) -> Result<String> {
        match self.job.runs.first() {
            Some(run) => Ok(self.script(&run.script)?.text.text),
            None => Ok(String::new()),
        }
    }

    /// What is to be written of it, in the reader's units or those of the job.
    pub(crate) fn sheet<'a>(&'a self, done: &'a Done, units: Option<System>) -> Result<Sheet<'a>> {
        let mut runs = Vec::new();
        for (ran, outcome) in done.ran.runs.iter().zip(&done.outcomes) {
            let found = self.script(&ran.script)?;
            let purpose = first_paragraph(&purpose(&found.text.text));
            let imports = outcome.imports.iter();
            let imports = imports.map(|text| Identity::of(text, self.shelf.version_of(&text.name)));
            let script = Identity::of(&found.text, found.pack_version).importing(imports.collect());
            runs.push(SheetRun {
                name: if self.in_job {
                    ran.name.clone()
                } else {
                    script.name.clone()
                },
                script,
                purpose,
                taken: self.taken(&ran.name, outcome),
                asked: ran.asked,
                tries: ran.tries.clone(),
                set: self.set(&ran.name, outcome, &done.overrides),
                outcome,
            });
        }
        let script = runs.first().map(|run| run.script.name.clone()).unwrap_or_default();
        let (title, about) = if self.in_job {
            (self.job.title.clone().unwrap_or_else(|| "job".to_owned()), self.day())
        } else {
            (script, first_paragraph(&purpose(&self.text()?)))
        };
        Ok(Sheet {
            title,
            about,
            runs,
            judged: &done.judged,
            doubts: done.ran.doubts.clone(),
            options: &self.job.options,
            kept: done.ran.kept.iter().map(|reading| reading.name.clone()).collect(),
            system: units.or(self.job.units).unwrap_or(System::Metric),
            in_job: self.in_job,
            job_file: self.in_job.then(|| Identity::of(&self.job.source, None)),
            altered: self.shelf.altered(),
        })
    }

    /// How the readings of a run were taken.
    fn taken(&self, run: &str, outcome: &Outcome) -> Vec<TakenInput> {
        let Some(run) = self.job.runs.iter().find(|planned| planned.name == run) else {
            return Vec::new();
        };
        let inputs = outcome.inputs.iter();
        let taken = inputs.filter_map(|input| Some((input, self.job.reading_of(run, &input.name)?)));
        taken
            .map(|(input, reading)| {
                let session = reading.session.and_then(|number| self.job.sessions.get(number));
                TakenInput {
                    input: input.name.clone(),
                    reading: reading.name.clone(),
                    on: session.map(|session| session.on.clone()),
                    by: session.and_then(|session| session.by.clone()),
                    with: reading.with.clone(),
                    repeats: reading.repeats().map(<[String]>::to_vec).unwrap_or_default(),
                    own: reading.run.is_some(),
                }
            })
            .collect()
    }

    /// The values of a run that somebody tries, each with what the job has in its place.
    fn set(&self, run: &str, outcome: &Outcome, overrides: &Overrides) -> Vec<SetValue> {
        let Some(run) = self.job.runs.iter().find(|planned| planned.name == run) else {
            return Vec::new();
        };
        let tried = outcome.inputs.iter().filter(|input| input.origin == Origin::Trial);
        let set = tried.filter(|input| {
            // What an option sets is tried by the job, not by whoever runs it.
            let own = format!("{}: {}", run.name, input.name);
            overrides.contains_key(&own) || self.option_value(run, &input.name).is_none()
        });
        set.map(|input| SetValue {
            input: input.name.clone(),
            option: self.set_by_option(run, &input.name, overrides),
            job: self.in_job.then(|| self.job_value(run, &input.name)).flatten(),
        })
        .collect()
    }

    /// The option that sets an input of a run, where nobody sets it otherwise.
    fn set_by_option(&self, run: &PlannedRun, input: &str, overrides: &Overrides) -> Option<String> {
        let own = format!("{}: {input}", run.name);
        let link = run.from.iter().find(|link| link.name == input);
        let name = link.map_or(input, |link| link.target.as_str());
        let given = overrides.get(&own).or_else(|| overrides.get(name))?;
        // What somebody tries stands in no file.
        self.option.clone().filter(|_| !given.places.is_empty())
    }

    /// What the job has for an input of a run.
    fn job_value(&self, run: &PlannedRun, input: &str) -> Option<GivenValue> {
        let with = run.with.iter().find(|setting| setting.name == input);
        let link = run.from.iter().find(|link| link.name == input);
        let target = link.map(|link| match self.job.reading(&link.target, None) {
            Some(reading) => reading.given.what.clone(),
            None => GivenValue::Text(link.target.clone()),
        });
        let reading = self.job.reading(input, Some(&run.name));
        let reading = reading.or_else(|| self.job.reading(input, None));
        with.map(|setting| setting.given.what.clone())
            .or(target)
            .or_else(|| self.option_value(run, input))
            .or_else(|| reading.map(|reading| reading.given.what.clone()))
    }

    /// What the option that a run tries sets for an input of it.
    fn option_value(&self, run: &PlannedRun, input: &str) -> Option<GivenValue> {
        let option = self
            .job
            .options
            .iter()
            .find(|option| Some(&option.name) == run.tries.as_ref())?;
        let own = format!("{}: {input}", run.name);
        let mut set = option.set.iter();
        let setting = set.find(|setting| setting.name == input || setting.name == own)?;
        Some(setting.given.what.clone())
    }

    /// The last day on which somebody measured: `Measured 2026-03-14, by R.`
    fn day(&self) -> String {
        let last = self.job.sessions.iter().max_by(|a, b| a.on.cmp(&b.on));
        last.map_or_else(String::new, |session| {
            let by = session.by.as_ref().map(|by| format!(", by {by}"));
            format!("Last measured {}{}", session.on, by.unwrap_or_default())
        })
    }
}

fn overrides(settings: &[String]) -> Result<Overrides> {
    let mut overrides = Overrides::new();
    for setting in settings {
        let (name, value) = split(setting)?;
        if overrides.insert(name.to_owned(), trial(value)).is_some() {
            return Err(Refusal::new("set", format!("--set names `{name}` twice")).into());
        }
    }
    Ok(overrides)
}

fn split(setting: &str) -> Result<(&str, &str)> {
    match setting.split_once('=') {
        Some((name, value)) if !name.trim().is_empty() && !value.trim().is_empty() => Ok((name.trim(), value.trim())),
        _ => {
            let refusal = Refusal::new("set", format!("--set takes NAME=VALUE, this is `{setting}`"));
            Err(refusal.hint("--set \"wall=0.095 in\"").into())
        }
    }
}

/// A file beside a job file: a job names nothing outside its folder.
fn beside(folder: &Path, name: &str) -> std::result::Result<SourceText, Refusal> {
    let path = Path::new(name);
    if path.components().all(|part| matches!(part, Component::Normal(_))) {
        return disk::read_within(folder, name);
    }
    Err(Refusal::new("file", format!("`{name}` is not in the job's folder")))
}
