//! The server: settings, checked before any port is bound; then store, plugins, calls; then drain.

use clap::Parser;
use ringland_server::{ServeError, Settings, settings::Flags, stop_signal, telemetry};
use std::{
    io::{self, Write},
    process::ExitCode,
};

fn main() -> ExitCode {
    let flags = Flags::parse();
    match run(&flags) {
        Ok(()) => ExitCode::SUCCESS,
        Err(error) => {
            // The log may not have been started; if this line cannot be written there is nobody to tell.
            let _ = writeln!(io::stderr(), "ringland-server: {error}");
            ExitCode::FAILURE
        }
    }
}

fn run(flags: &Flags) -> Result<(), ServeError> {
    let settings = Settings::load(flags)?;
    if flags.print_config {
        io::stdout().write_all(settings.to_toml()?.as_bytes())?;
    }
    if flags.print_config || flags.check_config {
        return Ok(());
    }
    telemetry::start(&settings.log).map_err(ServeError::Log)?;
    let runtime = tokio::runtime::Builder::new_multi_thread()
        .enable_all()
        .build()?;
    let served = runtime.block_on(async {
        let stop = stop_signal()?;
        let server = ringland_server::serve(settings, stop).await?;
        server.finished().await
    });
    // Connections that outlived the drain limit are cut.
    runtime.shutdown_background();
    served
}
