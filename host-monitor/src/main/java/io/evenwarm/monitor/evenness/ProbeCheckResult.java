package io.evenwarm.monitor.evenness;

import java.util.List;
import java.util.function.Function;

/** What a check of probes came to. */
public sealed interface ProbeCheckResult {

    /** Handles every case. */
    <R> R fold(Function<Checked, R> checked, Function<Withheld, R> withheld);

    /** Offsets of every probe but the reference. */
    record Checked(List<ProbeOffset> offsets) implements ProbeCheckResult {

        public Checked {
            offsets = List.copyOf(offsets);
        }

        @Override
        public <R> R fold(Function<Checked, R> checked, Function<Withheld, R> withheld) {
            return checked.apply(this);
        }
    }

    /** No offset, rather than one that was guessed. */
    record Withheld(List<Reason> reasons) implements ProbeCheckResult {

        public Withheld {
            reasons = List.copyOf(reasons);
        }

        @Override
        public <R> R fold(Function<Checked, R> checked, Function<Withheld, R> withheld) {
            return withheld.apply(this);
        }
    }
}
