//! Runs the program as a person does.

use serde_json::Value;
use std::path::{Path, PathBuf};
use std::process::{Command, Output, Stdio};

/// One run of the program.
pub(crate) struct Run(Command);

/// What a run left behind.
pub(crate) struct Ended {
    pub(crate) code: i32,
    pub(crate) stdout: String,
    pub(crate) stderr: String,
}

impl Run {
    /// With these arguments, in an environment that asks for nothing.
    pub(crate) fn of(args: &[&str]) -> Self {
        let mut command = Command::new(env!("CARGO_BIN_EXE_layshaft"));
        command.args(args).current_dir(env!("CARGO_MANIFEST_DIR"));
        for name in [
            "NO_COLOR",
            "CLICOLOR",
            "CLICOLOR_FORCE",
            "LC_ALL",
            "LC_CTYPE",
        ] {
            command.env_remove(name);
        }
        Self(command)
    }

    /// `layshaft solve` of a sample.
    pub(crate) fn solve(sample: &str, args: &[&str]) -> Self {
        let file = format!("problems/{sample}.json");
        Self::of(&[&["solve", &file], args].concat())
    }

    pub(crate) fn env(mut self, name: &str, value: &str) -> Self {
        self.0.env(name, value);
        self
    }

    pub(crate) fn ends(mut self) -> Ended {
        let Output {
            status,
            stdout,
            stderr,
        } = self.0.output().expect("the program runs");
        Ended {
            code: status.code().expect("an exit code"),
            stdout: String::from_utf8(stdout).expect("UTF-8"),
            stderr: String::from_utf8(stderr).expect("UTF-8"),
        }
    }

    /// Starts it with a stdout that nobody reads.
    pub(crate) fn ends_unread(mut self) -> Ended {
        self.0.stdout(Stdio::piped()).stderr(Stdio::piped());
        let mut child = self.0.spawn().expect("the program runs");
        drop(child.stdout.take());
        let Output { status, stderr, .. } = child.wait_with_output().expect("it ends");
        Ended {
            code: status.code().expect("an exit code"),
            stdout: String::new(),
            stderr: String::from_utf8(stderr).expect("UTF-8"),
        }
    }
}

impl Ended {
    /// Fails unless it ended with `code`.
    pub(crate) fn with(self, code: i32) -> Self {
        assert_eq!(
            self.code, code,
            "stdout: {}\nstderr: {}",
            self.stdout, self.stderr
        );
        self
    }

    pub(crate) fn json(&self) -> Value {
        serde_json::from_str(&self.stdout).expect("JSON")
    }
}

/// A copy of a sample in `folder`.
pub(crate) fn copy_of(sample: &str, folder: &Path) -> PathBuf {
    let from = Path::new(env!("CARGO_MANIFEST_DIR")).join(format!("problems/{sample}.json"));
    let to = folder.join(format!("{sample}.json"));
    std::fs::copy(from, &to).expect("a copy");
    to
}
