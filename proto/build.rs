//! Compiles the contract without a protocol compiler on the machine.

use std::{env, error::Error, fs, path::PathBuf};

fn main() -> Result<(), Box<dyn Error>> {
    let mut files = Vec::new();
    for entry in fs::read_dir("ringland/v1")? {
        files.push(entry?.path());
    }
    files.sort();
    println!("cargo::rerun-if-changed=ringland");
    println!("cargo::rerun-if-changed=google");
    let mut compiler = protox::Compiler::new(["."])?;
    compiler
        .include_imports(true)
        .include_source_info(true)
        .open_files(&files)?;
    let descriptors = PathBuf::from(env::var("OUT_DIR")?).join("ringland.bin");
    fs::write(descriptors, compiler.encode_file_descriptor_set())?;
    tonic_prost_build::configure()
        .extern_path(".google.rpc", "::tonic_types::pb")
        .compile_fds(compiler.file_descriptor_set())?;
    Ok(())
}
