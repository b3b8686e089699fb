package io.evenwarm.monitor.app;

import io.evenwarm.monitor.history.TimeSpan;
import java.time.Instant;
import java.time.ZoneId;
import java.util.Optional;
import org.jspecify.annotations.Nullable;
import picocli.CommandLine.Option;

/** Which span of a history a command is about. */
final class SpanOptions {

    @Option(
            names = "--from",
            paramLabel = "TIME",
            description =
                    "begin, for example 2026-03-01T12:00 (in the settings' zone) or"
                            + " 2026-03-01T12:00:00Z")
    private @Nullable String from;

    @Option(names = "--to", paramLabel = "TIME", description = "end, in the same form")
    private @Nullable String to;

    boolean hasBegin() {
        return from != null;
    }

    boolean hasEnd() {
        return to != null;
    }

    /**
     * The begin alone.
     *
     * @throws IllegalArgumentException when it is no time
     */
    Optional<Instant> begin(ZoneId zone) {
        return Optional.ofNullable(from).map(text -> Times.parse("--from", text, zone));
    }

    /**
     * The end alone.
     *
     * @throws IllegalArgumentException when it is no time
     */
    Optional<Instant> end(ZoneId zone) {
        return Optional.ofNullable(to).map(text -> Times.parse("--to", text, zone));
    }

    /**
     * The span that was given; empty when neither its begin nor its end was.
     *
     * @throws IllegalArgumentException when only one was, one is no time, or they are the wrong way
     *     round
     */
    Optional<TimeSpan> whole(ZoneId zone) {
        if (from == null && to == null) {
            return Optional.empty();
        }
        if (from == null || to == null) {
            throw new IllegalArgumentException("--from and --to go together");
        }
        return Optional.of(Times.span("--from", from, "--to", to, zone));
    }

    /**
     * The span that was given, in whose place stands the usual begin or end where none was.
     *
     * @throws IllegalArgumentException when one is no time, or they are the wrong way round
     */
    TimeSpan within(TimeSpan usual, ZoneId zone) {
        return Times.span(
                "--from",
                from == null ? usual.from().toString() : from,
                "--to",
                to == null ? usual.to().toString() : to,
                zone);
    }
}
