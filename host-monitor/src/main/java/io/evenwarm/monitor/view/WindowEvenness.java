package io.evenwarm.monitor.view;

import io.evenwarm.monitor.evenness.ProbeRecord;
import io.evenwarm.monitor.evenness.SurveyWords;
import io.evenwarm.monitor.history.CabinetKey;
import io.evenwarm.monitor.history.Tub;
import java.time.Instant;
import java.util.List;
import java.util.Optional;

/**
 * What is known beside the history when a cabinet's evenness is judged. Asked by a worker of the
 * window; all throw {@link java.io.UncheckedIOException} when the store can't be read.
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

                @Override
                public List<Tub> tubs() {
                    return List.of();
                }

                @Override
                public SurveyWords surveyWords() {
                    return SurveyWords.NONE;
                }
            };

    /** What is known of probes. */
    ProbeRecord probes();

    /** Since when a cabinet's air flow is to be learned; empty: since its first reading. */
    Optional<Instant> flowBegin(CabinetKey key);

    /** All tubs on record, those that are gone too. */
    List<Tub> tubs();

    /** What keepers said of surveys. */
    SurveyWords surveyWords();
}
