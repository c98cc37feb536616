//! What is being done, shown while it lasts: on a terminal, and only from the second second on.

use super::terminal::complain;
use std::io::IsTerminal;
use std::sync::mpsc::{Receiver, RecvTimeoutError, Sender, channel};
use std::thread::JoinHandle;
use std::time::Duration;

const A_SECOND: Duration = Duration::from_secs(1);
/// Back to the beginning of the line, and the line cleared (ECMA-48: EL).
const CLEAR: &str = "\r\u{1b}[K";

/// Says what is being done until it is dropped.
#[derive(Debug)]
pub(super) struct Progress {
    said: Option<(Sender<String>, JoinHandle<()>)>,
}

impl Progress {
    /// Begins with `doing`: "working out the cut list".
    pub(super) fn of(doing: &str) -> Progress {
        if !std::io::stderr().is_terminal() {
            return Progress { said: None };
        }
        let (sender, receiver) = channel();
        let doing = doing.to_owned();
        Progress { said: Some((sender, std::thread::spawn(move || show(doing, &receiver, &complain)))) }
    }

    /// Goes on to the next thing.
    pub(super) fn now(&self, doing: &str) {
        if let Some((sender, _)) = &self.said {
            // Nobody listens any more only if the thread is gone; then there is nothing to show.
            let _ = sender.send(doing.to_owned());
        }
    }
}

impl Drop for Progress {
    fn drop(&mut self) {
        if let Some((sender, thread)) = self.said.take() {
            drop(sender);
            let _ = thread.join();
        }
    }
}

/// Says through `say` what is being done and for how many seconds, from the first full one on, until nobody sends
/// `news` any more; then wipes it away.
pub fn show(mut doing: String, news: &Receiver<String>, say: &dyn Fn(&str)) {
    let mut seconds = 0;
    loop {
        match news.recv_timeout(A_SECOND) {
            Ok(next) => doing = next,
            Err(RecvTimeoutError::Timeout) => {
                seconds += 1;
                say(&format!("{CLEAR}{doing} ({seconds} s)"));
            }
            Err(RecvTimeoutError::Disconnected) => break,
        }
    }
    if seconds > 0 {
        say(CLEAR);
    }
}
