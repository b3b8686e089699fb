package io.evenwarm.monitor.view;

import io.evenwarm.clock.MonotonicClock;
import io.evenwarm.monitor.history.CabinetCurves;
import io.evenwarm.monitor.history.CabinetKey;
import io.evenwarm.monitor.history.HistoryQueries;
import io.evenwarm.monitor.history.LogEntry;
import io.evenwarm.monitor.history.TimeSpan;
import java.lang.System.Logger;
import java.lang.System.Logger.Level;
import java.time.Duration;
import java.time.Instant;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.concurrent.atomic.AtomicReference;
import org.jspecify.annotations.Nullable;

/**
 * Asks history for the window, one question at a time: a newer question takes the place of one that
 * was not begun. Answers are left for the window's worker to fetch.
 *
 * <p>{@link #ask} and the two answers belong to any thread; {@link #step} to this worker's own.
 */
final class HistoryWorker {

    private static final Logger LOG = System.getLogger(HistoryWorker.class.getName());

    static final int LOG_ENTRIES_MAX = 200;

    private final HistoryQueries history;
    private final MonotonicClock clock;
    private final Runnable onAnswer;
    private final AtomicReference<@Nullable Question> next = new AtomicReference<>();
    private volatile Optional<Answer> answer = Optional.empty();
    private volatile Map<CabinetKey, TimeSpan> known = Map.of();

    /**
     * What is asked.
     *
     * @param span of the curves
     * @param wholeTerm whether everything up to the end of the span is meant, whenever it began
     * @param logSpan of the log
     */
    record Question(CabinetKey key, TimeSpan span, boolean wholeTerm, TimeSpan logSpan) {}

    /**
     * What was found.
     *
     * @param span that the curves cover; longer than was asked for the whole term
     * @param curves empty when history could not be read
     * @param first when the first reading that is stored was taken
     * @param trouble why history could not be read
     * @param answeredAtNanos when, on the monotonic clock
     * @param took how long it took
     */
    record Answer(
            Question question,
            TimeSpan span,
            Optional<CabinetCurves> curves,
            List<LogEntry> log,
            Optional<Instant> first,
            Optional<String> trouble,
            long answeredAtNanos,
            Duration took) {}

    HistoryWorker(HistoryQueries history, MonotonicClock clock, Runnable onAnswer) {
        this.history = history;
        this.clock = clock;
        this.onAnswer = onAnswer;
    }

    void ask(Question question) {
        next.set(question);
    }

    Optional<Answer> answer() {
        return answer;
    }

    /** Every cabinet that history holds, with its first and last reading, as of the last look. */
    Map<CabinetKey, TimeSpan> known() {
        return known;
    }

    /** Looks which cabinets are known from before. */
    void lookForKnown() {
        try {
            Map<CabinetKey, TimeSpan> found = new LinkedHashMap<>();
            for (CabinetKey key : history.cabinets()) {
                history.extent(key).ifPresent(extent -> found.put(key, extent));
            }
            known = Map.copyOf(found);
        } catch (RuntimeException trouble) {
            LOG.log(Level.WARNING, "the known cabinets could not be read from history", trouble);
        }
        onAnswer.run();
    }

    /** Answers the newest question, if there is one. */
    void step() {
        Question question = next.getAndSet(null);
        if (question == null) {
            return;
        }
        long begin = clock.nanos();
        Answer found;
        try {
            found = find(question, begin);
        } catch (RuntimeException trouble) {
            LOG.log(Level.WARNING, "history could not be read", trouble);
            found =
                    new Answer(
                            question,
                            question.span(),
                            Optional.empty(),
                            List.of(),
                            Optional.empty(),
                            Optional.of("History can't be read: " + trouble.getMessage()),
                            clock.nanos(),
                            Duration.ofNanos(clock.nanos() - begin));
        }
        answer = Optional.of(found);
        onAnswer.run();
    }

    private Answer find(Question question, long begin) {
        Optional<TimeSpan> extent = history.extent(question.key());
        TimeSpan span = question.span();
        if (question.wholeTerm() && extent.isPresent()) {
            Instant first = extent.get().from();
            if (first.isBefore(span.to())) {
                span = new TimeSpan(first, span.to());
            }
        }
        CabinetCurves curves = history.curves(question.key(), span);
        TimeSpan logSpan =
                question.wholeTerm()
                        ? new TimeSpan(span.from(), question.logSpan().to())
                        : question.logSpan();
        List<LogEntry> log = history.log(Optional.of(question.key()), logSpan, LOG_ENTRIES_MAX);
        long end = clock.nanos();
        return new Answer(
                question,
                span,
                Optional.of(curves),
                List.copyOf(log),
                extent.map(TimeSpan::from),
                Optional.empty(),
                end,
                Duration.ofNanos(end - begin));
    }
}
