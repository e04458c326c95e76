//! Commands and options.

use clap::{Args, Parser, Subcommand, ValueEnum};
use crankline_engine::quantity::text::System;

/// Calculations that a fabrication shop scripts for itself.
///
/// Calculation aid; does not approve a vehicle.
#[derive(Debug, Parser)]
#[command(name = "crankline", version, disable_help_subcommand = true)]
pub(crate) struct Arguments {
    #[command(subcommand)]
    pub(crate) command: Command,
    #[command(flatten)]
    pub(crate) common: Common,
}

/// Options of every command.
#[derive(Clone, Debug, Args)]
pub(crate) struct Common {
    /// text, markdown or json; of a run, a lesson or a measuring sheet html, of a sweep csv too [default: text, of a lesson html]
    #[arg(long, global = true, value_enum, hide_possible_values = true, hide_default_value = true, default_value_t = Format::Text)]
    pub(crate) format: Format,
    /// Write to this file, which must not be there yet
    #[arg(long, global = true, value_name = "FILE")]
    pub(crate) out: Option<String>,
    /// Show results in inch or metric units [default: metric, or the job's]
    #[arg(long, global = true, value_enum, hide_possible_values = true)]
    pub(crate) units: Option<Units>,
    /// The folder in which your packs lie, instead of the usual one; may be given more than once
    #[arg(long, global = true, value_name = "DIR")]
    pub(crate) packs: Vec<String>,
    /// Let scripts do so many times the work that they may do otherwise, for this once; no file can ask for it
    #[arg(long, global = true, value_name = "TIMES", value_parser = clap::value_parser!(u32).range(1..=1000))]
    pub(crate) effort: Option<u32>,
    /// No colour
    #[arg(long, global = true)]
    pub(crate) no_color: bool,
}

#[derive(Clone, Copy, Debug, PartialEq, Eq, ValueEnum)]
pub(crate) enum Format {
    Text,
    Markdown,
    Json,
    Html,
    Csv,
}

#[derive(Clone, Copy, Debug, PartialEq, Eq, ValueEnum)]
pub(crate) enum Units {
    Inch,
    Metric,
}

impl Common {
    /// The units asked for.
    pub(crate) fn system(&self) -> Option<System> {
        self.units.map(|units| match units {
            Units::Inch => System::Inch,
            Units::Metric => System::Metric,
        })
    }
}

#[derive(Debug, Subcommand)]
pub(crate) enum Command {
    /// Scripts in all packs, a line each
    List {
        /// Show those that have this in their name or description
        pattern: Option<String>,
    },
    /// What a script is for, what it wants to know, what it gives; of a pack, whose it is and what is in it
    Describe {
        /// A script (driveline/joint-angles), a .rhai file, or a pack by its name or in a folder
        #[arg(value_name = "SCRIPT|PACK")]
        script: String,
    },
    /// Run a script or a job: its checks, worst first
    Run(Run),
    /// What the ± of the readings does to every result and verdict
    Spread(Spread),
    /// What happens between here and there: one input varied, or two
    Sweep(Sweep),
    /// Where inputs have to be for what is wanted
    Solve(Solve),
    /// Two jobs, records or options side by side: verdicts, inputs, steps
    Compare(Compare),
    /// A calculation line by line for a class: words, letters, numbers, answer; exercise sheets
    Lesson(Lesson),
    /// A sheet to measure by: what, how, with a box for each value; of a job with what is there
    Sheet {
        /// A script (driveline/joint-angles), a .rhai file or a job (.toml); of scripts several
        #[arg(required = true, value_name = "TARGET")]
        targets: Vec<String>,
    },
    /// A new job file, what is missing in one, readings asked for one by one
    #[command(subcommand)]
    Job(Job),
    /// Read a script without readings: what would go wrong, and what a reviewer would ask
    ///
    /// Ends with 0 where nothing is found, with 1 where a reviewer would ask, with 2 where the script would not run.
    Inspect {
        /// A script (driveline/joint-angles), a .rhai file, a pack by its name, in a folder or sealed (.zip), or a job (.toml)
        #[arg(value_name = "FILE")]
        what: String,
    },
    /// Run the worked examples that come with scripts
    ///
    /// Ends with 0 where all come out, with 1 where one differs or a script does not run on its own examples, with 2 where it
    /// could not be done.
    Prove {
        /// A pack, a sealed one (.zip), a script or a .rhai file with its cases beside it
        #[arg(value_name = "PACK|SCRIPT")]
        what: Option<String>,
    },
    /// Copy a script into a pack of your own, noting where it came from
    Adapt {
        /// The script: driveline/critical-speed
        script: String,
        /// What the copy is called: my-shaft, or shop/my-shaft where you have several packs
        new_name: String,
    },
    /// Packs of scripts: new ones, sealed ones to give and to get, those that are here
    #[command(subcommand)]
    Pack(Pack),
    /// Functions that scripts may call
    Functions {
        /// Show those that have this in their name or description
        pattern: Option<String>,
    },
    /// Units that scripts and readings may use
    Units {
        /// Show those that have this in their name
        pattern: Option<String>,
    },
    /// Materials that the engine knows, each value with its source
    Materials {
        /// Show those that have this in their name
        pattern: Option<String>,
    },
}

#[derive(Debug, Subcommand)]
pub(crate) enum Pack {
    /// Write a new pack, which works as it is and explains itself
    New {
        /// What it is called: small letters, digits and -
        name: String,
    },
    /// The packs that are here, and where
    List,
    /// Make one file of a pack, to give to others; its worked examples must come out
    Seal(SealPack),
    /// What is in a sealed pack: nothing in it is run, nothing is written
    Look(LookAtPack),
    /// Put a sealed pack among your own; it must have worked examples, and all of them must come out here
    Add(AddPack),
    /// Take a pack away that was added
    Remove {
        /// Its name
        name: String,
    },
    /// What changed in a pack against the scripts it was copied from, or against an older version
    ///
    /// Lines that changed, and what the worked examples of both give on both. Ends with 1 where a verdict got worse or a
    /// worked example does not come out, with 0 where only words changed or numbers moved within what the examples allow.
    Compare(ComparePacks),
    /// Make a key to seal packs with, so that others know who sealed them
    Key {
        /// The file for the key, which nobody else may see; what others need goes into FILE.pub
        file: Option<String>,
    },
}

impl Pack {
    /// Whether what `--out` names is the file that the command makes, and not what it says.
    pub(crate) const fn makes_a_file(&self) -> bool {
        matches!(self, Self::Seal(_) | Self::Key { .. })
    }
}

#[derive(Debug, Args)]
pub(crate) struct SealPack {
    /// The pack, by its name
    pub(crate) name: String,
    /// The file to write, which may be named by --out as well [default: NAME-VERSION.zip]
    pub(crate) file: Option<String>,
    /// Sign it with the key in this file
    #[arg(long, value_name = "FILE")]
    pub(crate) key: Option<String>,
}

#[derive(Debug, Args)]
pub(crate) struct LookAtPack {
    /// The sealed pack (.zip)
    pub(crate) file: String,
    /// Refuse it unless it is signed with the key in this file (shop.key.pub)
    #[arg(long, value_name = "FILE")]
    pub(crate) by: Option<String>,
    /// Show the text of this script in it, in place of the rest
    #[arg(long, value_name = "NAME")]
    pub(crate) script: Option<String>,
}

#[derive(Debug, Args)]
pub(crate) struct AddPack {
    /// The sealed pack (.zip)
    pub(crate) file: String,
    /// Refuse it unless it is signed with the key in this file (shop.key.pub)
    #[arg(long, value_name = "FILE")]
    pub(crate) by: Option<String>,
    /// Put it in the place of the one of its name that is here, whichever version that is
    #[arg(long)]
    pub(crate) replace: bool,
}

#[derive(Debug, Args)]
pub(crate) struct ComparePacks {
    /// The pack, or a sealed one (.zip)
    pub(crate) pack: String,
    /// What to compare it with: an older version (.zip), another pack [default: what its scripts were copied from]
    pub(crate) with: Option<String>,
}

#[derive(Debug, Subcommand)]
pub(crate) enum Job {
    /// Write a new job file that runs these scripts and waits for their readings
    New {
        /// The file, which must not be there yet: car.toml
        file: String,
        /// Scripts in the order in which they are to run: one may use what an earlier one works out
        #[arg(required = true, value_name = "SCRIPT")]
        scripts: Vec<String>,
    },
    /// What nobody has measured yet, how to, and which checks wait for it
    Missing {
        /// The job (.toml)
        file: String,
    },
    /// Ask for what is missing, one by one, and write each answer into the job
    Ask(Ask),
}

#[derive(Debug, Args)]
pub(crate) struct Ask {
    /// The job (.toml)
    pub(crate) file: String,
    /// The day of the readings, which makes them a session: --on 2026-03-14
    #[arg(long, value_name = "DATE")]
    pub(crate) on: Option<String>,
    /// Who takes them
    #[arg(long, value_name = "NAME", requires = "on")]
    pub(crate) by: Option<String>,
}

/// What is run, and what is tried on it.
#[derive(Debug, Args)]
pub(crate) struct On {
    /// A script (driveline/joint-angles), a .rhai file or a job (.toml)
    pub(crate) target: String,
    /// Try a value: --set "wall=0.095 in +/- 0.005 in"
    #[arg(long, value_name = "NAME=VALUE")]
    pub(crate) set: Vec<String>,
    /// Values of this option of the job in place of its own; --set wins over it
    #[arg(long, value_name = "NAME")]
    pub(crate) option: Option<String>,
    /// Only this run of a job
    #[arg(long, value_name = "RUN")]
    pub(crate) only: Option<String>,
}

#[derive(Debug, Args)]
pub(crate) struct Run {
    #[command(flatten)]
    pub(crate) on: On,
    /// Every step, with its numbers put in
    #[arg(long)]
    pub(crate) working: bool,
    /// Checks that hold too, and all cautions
    #[arg(long)]
    pub(crate) all: bool,
    /// A reading that nobody took is an error
    #[arg(long)]
    pub(crate) strict: bool,
    /// Run it again whenever a file changes that it reads; Ctrl-C ends it
    #[arg(long)]
    pub(crate) follow: bool,
    /// Write the page, to --out or into the folder for temporary files, and show it in the browser
    #[arg(long)]
    pub(crate) open: bool,
}

#[derive(Debug, Args)]
pub(crate) struct Lesson {
    #[command(flatten)]
    pub(crate) on: On,
    /// So many exercise sheets, each with readings of its own, in place of the lesson; with a table of their answers
    #[arg(long, value_name = "N", value_parser = whole::<u64>)]
    pub(crate) sheets: Option<u64>,
    /// Draws other readings; the same number the same ones [default: 1]
    #[arg(long, value_name = "N", requires = "sheets", value_parser = whole::<u64>)]
    pub(crate) seed: Option<u64>,
}

#[derive(Debug, Args)]
pub(crate) struct Solve {
    #[command(flatten)]
    pub(crate) on: On,
    /// What may be adjusted: --adjust "mount_up=-20 mm..20 mm", or among choices: --adjust cable_size=4,6,10
    #[arg(long, value_name = "NAME=FROM..TO", required = true)]
    pub(crate) adjust: Vec<String>,
    /// A step that is to have a value: --for "residual_re=0"; without it every check is to hold with the largest margin
    #[arg(long = "for", value_name = "NAME=VALUE")]
    pub(crate) targets: Vec<String>,
    /// A step to be as small as the checks allow
    #[arg(long, value_name = "NAME")]
    pub(crate) least: Option<String>,
    /// Margins as far as the readings' own ± leaves them
    #[arg(long)]
    pub(crate) robust: bool,
    /// What exists comes in multiples of this: --step "1 mm", or for one input: --step "mount_up=0.5 mm"
    #[arg(long, value_name = "SIZE")]
    pub(crate) step: Vec<String>,
    /// Write the best solution into the job as an option of this name
    #[arg(long, value_name = "OPTION")]
    pub(crate) keep: Option<String>,
}

#[derive(Debug, Args)]
pub(crate) struct Spread {
    #[command(flatten)]
    pub(crate) on: On,
    /// How many samples [default: 16384]
    #[arg(long, value_name = "N", value_parser = whole::<usize>)]
    pub(crate) samples: Option<usize>,
    /// Draws other samples; the same number the same ones [default: 1]
    #[arg(long, value_name = "N", value_parser = whole::<u64>)]
    pub(crate) seed: Option<u64>,
}

#[derive(Debug, Args)]
pub(crate) struct Sweep {
    #[command(flatten)]
    pub(crate) on: On,
    /// What is varied: --vary "top=2000 rpm..6000 rpm", or choices: --vary cable_size=4,6,10; given twice it makes a map
    #[arg(long, value_name = "NAME=FROM..TO", required = true)]
    pub(crate) vary: Vec<String>,
    /// How many points along each [default: 61, of a map 21]
    #[arg(long, value_name = "N", value_parser = whole::<usize>)]
    pub(crate) points: Option<usize>,
    /// Steps to watch: a curve for each
    #[arg(long, value_name = "NAME", num_args = 1..)]
    pub(crate) watch: Vec<String>,
}

#[derive(Debug, Args)]
pub(crate) struct Compare {
    /// A job (.toml), an option of it ("car.toml: mount lowered"), a script, or what run --format json wrote (.json)
    pub(crate) a: String,
    /// The same; beside a job the name of one of its options is enough
    pub(crate) b: String,
    /// What is the same too
    #[arg(long)]
    pub(crate) all: bool,
    /// Only this run of both
    #[arg(long, value_name = "RUN")]
    pub(crate) only: Option<String>,
}

/// A whole number that counts something, or is one of many.
fn whole<T: std::str::FromStr>(text: &str) -> Result<T, String> {
    let wanted = "a whole number from 0 is wanted, of 19 digits at the most";
    text.parse().map_err(|_| wanted.to_owned())
}
