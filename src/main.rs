//! The command `cotterpin`; everything it does is in `cotterpin::command`.

fn main() -> std::process::ExitCode {
    cotterpin::command::run()
}
