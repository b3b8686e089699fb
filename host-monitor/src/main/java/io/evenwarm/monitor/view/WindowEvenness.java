package io.evenwarm.monitor.view;

import io.evenwarm.monitor.evenness.ProbeRecord;
import io.evenwarm.monitor.history.CabinetKey;
import java.time.Instant;
import java.util.Optional;

/**
 * What is known beside the history when a cabinet's evenness is judged. Asked by a worker of the
 * window; both throw {@link java.io.UncheckedIOException} when the store can't be read.
 */
public interface WindowEvenness {

    /** Nothing is known. */
    WindowEvenness NONE =
            new WindowEvenness() {
                @Override
                public ProbeRecord probes() {
                    return ProbeRecord.EMPTY;
                }

                @Override
                public Optional<Instant> flowBegin(CabinetKey key) {
                    return Optional.empty();
                }
            };

    /** What is known of probes. */
    ProbeRecord probes();

    /** Since when a cabinet's air flow is to be learned; empty: since its first reading. */
    Optional<Instant> flowBegin(CabinetKey key);
}
