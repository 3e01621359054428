//! The program: hands the arguments to the command line and leaves with its status.

fn main() -> std::process::ExitCode {
    loomleaf::cli::run(std::env::args_os())
}
