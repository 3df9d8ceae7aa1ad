//! Where settings come from: defaults, then the file, then the environment, then flags; what comes
//! later wins.

use super::{LogFormat, Settings, SettingsError};
use figment::{
    Figment,
    providers::{Env, Format, Serialized, Toml},
    value::Value,
};
use serde::Serialize;
use std::{net::SocketAddr, path::PathBuf};

/// Prefix of the environment variables. `RINGLAND_SERVER_LIMITS__CALLS` is `limits.calls`.
const ENVIRONMENT: &str = "RINGLAND_SERVER_";

/// The command line.
#[derive(Clone, Debug, Default, clap::Parser, Serialize)]
#[command(
    name = "ringland-server",
    version,
    about = "Serves the life ledger of a race-engine and driveline shop over gRPC",
    after_help = "Settings come from defaults, the file, the environment (RINGLAND_SERVER_LISTEN, \
                  RINGLAND_SERVER_LIMITS__CALLS ...), then flags; what comes later wins."
)]
pub struct Flags {
    /// File with settings (TOML).
    #[arg(long, value_name = "FILE")]
    #[serde(skip)]
    pub config: Option<PathBuf>,
    /// Checks the settings and stops.
    #[arg(long)]
    #[serde(skip)]
    pub check_config: bool,
    /// Prints the settings that hold, as TOML, and stops.
    #[arg(long)]
    #[serde(skip)]
    pub print_config: bool,
    /// Address to listen on; port 0 takes a free one.
    #[arg(long, value_name = "ADDRESS")]
    #[serde(skip_serializing_if = "Option::is_none")]
    pub listen: Option<SocketAddr>,
    /// Writes the bound address to this file.
    #[arg(long, value_name = "FILE")]
    #[serde(skip_serializing_if = "Option::is_none")]
    pub address_file: Option<PathBuf>,
    /// Folder of the ledger.
    #[arg(long, value_name = "FOLDER")]
    #[serde(skip_serializing_if = "Option::is_none")]
    pub data_dir: Option<PathBuf>,
    /// Folder of the cache.
    #[arg(long, value_name = "FOLDER")]
    #[serde(skip_serializing_if = "Option::is_none")]
    pub cache_dir: Option<PathBuf>,
    /// Installs the plugins in this folder.
    #[arg(long, value_name = "FOLDER")]
    #[serde(skip_serializing_if = "Option::is_none")]
    pub plugins_dir: Option<PathBuf>,
    /// Requires the bearer token in this file.
    #[arg(long, value_name = "FILE")]
    #[serde(skip_serializing_if = "Option::is_none")]
    pub token_file: Option<PathBuf>,
    /// Listens on more than this machine without a token.
    #[arg(long)]
    #[serde(skip_serializing_if = "is_false")]
    pub allow_open: bool,
    /// Form of the log.
    #[arg(long, value_enum, value_name = "FORMAT")]
    #[serde(skip)]
    pub log_format: Option<LogFormat>,
    /// Any other setting: `--set limits.calls=64`. May be given several times.
    #[arg(long, value_name = "KEY=VALUE", value_parser = key_and_value)]
    #[serde(skip)]
    pub set: Vec<(String, String)>,
}

/// A flag that is absent must not overrule the file.
#[allow(clippy::trivially_copy_pass_by_ref)] // the signature that serde calls
fn is_false(flag: &bool) -> bool {
    !flag
}

fn key_and_value(text: &str) -> Result<(String, String), String> {
    match text.split_once('=') {
        Some((key, value)) if !key.is_empty() => Ok((key.to_owned(), value.to_owned())),
        _ => Err(format!(
            "{text:?} is not KEY=VALUE, such as limits.calls=64"
        )),
    }
}

impl Settings {
    /// Puts the settings together and checks them.
    ///
    /// # Errors
    /// Every key that is unknown, of the wrong kind or out of range, with where it came from.
    pub fn load(flags: &Flags) -> Result<Self, SettingsError> {
        let mut sources = Figment::from(Serialized::defaults(Self::default()));
        if let Some(file) = &flags.config {
            sources = sources.merge(Toml::file_exact(file));
        }
        sources = sources
            .merge(Env::prefixed(ENVIRONMENT).split("__"))
            .merge(Serialized::defaults(flags));
        if let Some(format) = flags.log_format {
            sources = sources.merge(("log.format", format));
        }
        for (key, text) in &flags.set {
            let value: Value = text.parse().unwrap_or_else(|never| match never {});
            sources = sources.merge((key.as_str(), value));
        }
        let settings: Self = sources.extract().map_err(SettingsError::from_sources)?;
        settings.check()?;
        Ok(settings)
    }

    /// The settings as TOML.
    ///
    /// # Errors
    /// When a path is not UTF-8.
    pub fn to_toml(&self) -> Result<String, SettingsError> {
        toml::to_string(self).map_err(|error| SettingsError::Unprintable(error.to_string()))
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use clap::Parser;
    use figment::Jail;

    fn load(arguments: &[&str]) -> Result<Settings, SettingsError> {
        let program = ["ringland-server"].into_iter();
        let flags = Flags::try_parse_from(program.chain(arguments.iter().copied())).unwrap();
        Settings::load(&flags)
    }

    /// Runs a check in a folder and with environment variables of its own.
    #[allow(clippy::result_large_err)] // the signature that the library calls
    fn alone(check: impl FnOnce(&mut Jail)) {
        Jail::expect_with(|jail| {
            jail.clear_env();
            check(jail);
            Ok(())
        });
    }

    #[test]
    fn flags_overrule_the_environment_which_overrules_the_file() {
        alone(|jail| {
            let text = "[limits]\ncalls = 1\ncall_s = 1\npage_size = 1\nbatch = 1\n";
            jail.create_file("ringland.toml", text).unwrap();
            jail.set_env("RINGLAND_SERVER_LIMITS__CALL_S", "2");
            jail.set_env("RINGLAND_SERVER_LIMITS__PAGE_SIZE", "2");
            jail.set_env("RINGLAND_ELSEWHERE", "not a setting of the server");
            let set = ["--config", "ringland.toml", "--set", "limits.page_size=3"];
            let limits = load(&set).unwrap().limits;
            assert_eq!((limits.calls, limits.call_s, limits.page_size), (1, 2, 3));
            assert_eq!(limits.uploads, Settings::default().limits.uploads);
        });
    }

    #[test]
    fn flags_with_a_name_of_their_own() {
        alone(|jail| {
            jail.create_file("c.toml", "allow_open = true\n[log]\nformat = \"text\"\n")
                .unwrap();
            let arguments = [
                "--config",
                "c.toml",
                "--listen",
                "0.0.0.0:0",
                "--log-format",
                "json",
            ];
            let settings = load(&arguments).unwrap();
            assert!(
                settings.allow_open,
                "an absent flag does not overrule the file"
            );
            assert_eq!(settings.listen.port(), 0);
            assert_eq!(settings.log.format, LogFormat::Json);
        });
    }

    #[test]
    fn unknown_keys_are_refused_wherever_they_come_from() {
        alone(|jail| {
            jail.create_file("c.toml", "[limits]\ncals = 1\n").unwrap();
            let error = load(&["--config", "c.toml"]).unwrap_err().to_string();
            assert!(
                error.contains("cals") && error.contains("c.toml"),
                "{error}"
            );
            let error = load(&["--set", "limits.cals=1"]).unwrap_err().to_string();
            assert!(error.contains("cals"), "{error}");
            jail.set_env("RINGLAND_SERVER_LISTN", "127.0.0.1:1");
            let error = load(&[]).unwrap_err().to_string();
            assert!(error.contains("listn"), "{error}");
        });
    }

    #[test]
    fn a_value_of_the_wrong_kind_or_a_missing_file_is_refused() {
        alone(|jail| {
            assert!(load(&["--set", "limits.calls=many"]).is_err());
            assert!(load(&["--config", "missing.toml"]).is_err());
            jail.create_file("c.toml", "listen = \"nowhere\"\n")
                .unwrap();
            let error = load(&["--config", "c.toml"]).unwrap_err().to_string();
            assert!(error.contains("listen"), "{error}");
        });
    }

    #[test]
    fn what_is_printed_reads_back_the_same() {
        alone(|jail| {
            let mut settings = Settings::default();
            settings.limits.calls = 7;
            settings.data_dir = "a folder".into();
            jail.create_file("printed.toml", &settings.to_toml().unwrap())
                .unwrap();
            assert_eq!(load(&["--config", "printed.toml"]).unwrap(), settings);
        });
    }

    /// The file that people start from says what holds without it.
    #[test]
    fn the_example_file_has_every_key_at_its_default() {
        let example = include_str!("../../../../deploy/ringland.toml");
        let settings: Settings = toml::from_str(example).unwrap();
        assert_eq!(settings, Settings::default());
        let keys = |text: &str| {
            let table: toml::Table = toml::from_str(text).unwrap();
            let inner = |value: &toml::Value| {
                value
                    .as_table()
                    .map(|t| t.keys().cloned().collect::<Vec<_>>())
            };
            table
                .iter()
                .map(|(key, value)| (key.clone(), inner(value)))
                .collect::<Vec<_>>()
        };
        assert_eq!(keys(example), keys(&Settings::default().to_toml().unwrap()));
    }
}
