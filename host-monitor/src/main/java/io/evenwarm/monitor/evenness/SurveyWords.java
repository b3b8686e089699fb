package io.evenwarm.monitor.evenness;

import io.evenwarm.monitor.history.CabinetKey;
import io.evenwarm.monitor.history.TimeSpan;
import java.time.Duration;
import java.time.Instant;
import java.util.List;
import java.util.Optional;

/**
 * What keepers said of surveys, kept so that it need not be said again.
 *
 * @param loads in the order in which they were said
 * @param stands of probes that were moved
 */
public record SurveyWords(List<Load> loads, List<Placed> stands) {

    /** Nobody said anything. */
    public static final SurveyWords NONE = new SurveyWords(List.of(), List.of());

    public SurveyWords {
        loads = List.copyOf(loads);
        stands = List.copyOf(stands);
    }

    /** That a cabinet was empty or loaded over a span. */
    public record Load(CabinetKey key, TimeSpan span, SurveyLoad.Kind kind) {}

    /** That a probe of a cabinet stood somewhere. */
    public record Placed(CabinetKey key, Stand stand) {}

    /** Where probes of a cabinet stood. */
    public Stands standsIn(CabinetKey key) {
        return new Stands(
                stands.stream()
                        .filter(placed -> placed.key().equals(key))
                        .map(Placed::stand)
                        .toList());
    }

    /** What was said last of a span, or of most of it. */
    Optional<Load> load(CabinetKey key, TimeSpan of) {
        return loads.stream()
                .filter(load -> load.key().equals(key))
                .filter(load -> common(load.span(), of).multipliedBy(2).compareTo(of.length()) >= 0)
                .reduce((earlier, later) -> later);
    }

    private static Duration common(TimeSpan one, TimeSpan other) {
        Instant from = one.from().isAfter(other.from()) ? one.from() : other.from();
        Instant to = one.to().isBefore(other.to()) ? one.to() : other.to();
        return Duration.between(from, to);
    }
}
