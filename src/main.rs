//! The program: hands the arguments to the command line and leaves with its status.

/// A sheet makes and drops hundreds of thousands of short lists.
#[global_allocator]
static ALLOCATOR: mimalloc::MiMalloc = mimalloc::MiMalloc;

fn main() -> std::process::ExitCode {
    loomleaf::cli::run(std::env::args_os())
}
