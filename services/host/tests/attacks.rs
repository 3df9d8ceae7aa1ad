//! Each attack costs one error that says what happened, and the next call is answered as if
//! nothing had been.
#![allow(
    clippy::unwrap_used,
    clippy::panic,
    reason = "helpers of tests fail like tests"
)]

mod support;

use support::{Host, misbehaviour, patched};

/// Attack in `advance`, and what its error must say.
const ON_ADVANCE: &[(&str, &str)] = &[
    (
        "panic",
        "it panicked, in attack_plugins::attack::Attack::on_the_host",
    ),
    ("hang", "past its deadline of 3000 ms"),
    ("hoard", "bytes of memory where 33554432 are allowed"),
    ("recurse", "stack of 524288 bytes"),
    ("aliased_list", "larger than 67108864 bytes"),
    ("clock", "wasi:clocks/"),
    ("random", "wasi:random/"),
    ("environment", "wasi:cli/environment"),
    ("file", "wasi:filesystem/"),
    ("print", "wasi:cli/stdout"),
    ("nan_condition", "NaN"),
    ("short_condition", "0 entries where 1 were expected"),
    ("missing_record", "1 entries where 2 were expected"),
    ("healing", "never falls"),
    (
        "out_of_range",
        "wear_depth_m = 2 where the card allows 0 to 1 m",
    ),
];

const ON_FORECAST: &[(&str, &str)] = &[
    ("unordered", "quantiles out of order at 0 events ahead"),
    ("risk_of_two", "risk_next_event = 2 is no probability"),
    ("risk_against_lives", "contradicts the drawn lives"),
    ("beyond_horizon", "a drawn life of 1000000000000 events"),
    ("half_shares", "add up to"),
    ("nan_life", "a drawn life of NaN events"),
];

#[test]
fn each_attack_costs_one_error_that_says_so() {
    let host = Host::new();
    let honest = host.advance("none").unwrap();
    for (attack, expected) in ON_ADVANCE {
        let reason = misbehaviour(host.advance(attack));
        assert!(reason.contains(expected), "{attack}: {reason}");
        assert_eq!(host.advance("none").unwrap(), honest, "after {attack}");
    }
    for (attack, expected) in ON_FORECAST {
        let reason = misbehaviour(host.forecast(attack));
        assert!(reason.contains(expected), "{attack}: {reason}");
        assert!(host.forecast("none").is_ok(), "after {attack}");
    }
    let reason = misbehaviour(host.advance("nan_table"));
    assert!(reason.contains("prepared table[0] = NaN"), "{reason}");
}

/// A static counter reads 0 in every call: an instance remembers nothing of the one before.
#[test]
fn a_plugin_cannot_remember() {
    let host = Host::new();
    let first = host.advance("remember").unwrap();
    for _ in 0..3 {
        assert_eq!(host.advance("remember").unwrap(), first);
    }
}

#[test]
fn other_calls_are_answered_while_a_plugin_hangs() {
    let host = Host::new();
    let honest = host.advance("none").unwrap();
    std::thread::scope(|scope| {
        let hanging: Vec<_> = (0..3)
            .map(|_| scope.spawn(|| host.advance("hang")))
            .collect();
        for _ in 0..50 {
            assert_eq!(host.advance("none").unwrap(), honest);
        }
        for attack in hanging {
            assert!(misbehaviour(attack.join().unwrap()).contains("deadline"));
        }
    });
}

/// More callers than pooled instances: they wait for one another and all get their answer.
#[test]
fn more_callers_than_instances_all_get_their_answer() {
    let host = Host::new();
    let honest = host.advance("none").unwrap();
    std::thread::scope(|scope| {
        for _ in 0..32 {
            scope.spawn(|| assert_eq!(host.advance("none").unwrap(), honest));
        }
    });
}

#[test]
fn attacks_in_the_card_are_stopped_at_loading() {
    let host = Host::new();
    for (digit, expected) in [("1", "deadline"), ("2", "bytes of memory")] {
        let bytes = patched("attack in card: 0", &format!("attack in card: {digit}"));
        let error = ringland_host::contract::Models::load(&host.models, &bytes).unwrap_err();
        let text = error.to_string();
        assert!(
            text.starts_with("not a plugin") && text.contains(expected),
            "{text}"
        );
    }
    assert_eq!(
        ringland_host::contract::Models::loaded(&host.models),
        [host.plugin]
    );
}

/// Resident memory after attacks that hoard is what it was after the first few.
#[cfg(target_os = "linux")]
#[test]
fn hoarding_leaves_no_memory_behind() {
    let resident_pages = || -> u64 {
        let text = std::fs::read_to_string("/proc/self/statm").unwrap();
        text.split(' ').nth(1).unwrap().parse().unwrap()
    };
    let host = Host::new();
    let attack = || {
        misbehaviour(host.advance("hoard"));
        misbehaviour(host.advance("aliased_list"));
    };
    (0..8).for_each(|_| attack());
    let before = resident_pages();
    (0..40).for_each(|_| attack());
    let grown_bytes = resident_pages().saturating_sub(before) * 4096;
    // One attack alone takes 32 MiB; other tests of this file run beside this one.
    assert!(grown_bytes < 200 << 20, "{grown_bytes} bytes");
}
