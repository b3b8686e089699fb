package io.evenwarm.monitor.app;

import io.evenwarm.clock.MonotonicClock;
import io.evenwarm.clock.SystemClock;
import io.evenwarm.monitor.evenness.EvennessReport;
import io.evenwarm.monitor.evenness.LiveSurvey;
import io.evenwarm.monitor.evenness.SurveyQuestion;
import io.evenwarm.monitor.evenness.Wording;
import io.evenwarm.monitor.history.CabinetCurves;
import io.evenwarm.monitor.history.CabinetKey;
import io.evenwarm.monitor.history.HistoryQueries;
import io.evenwarm.monitor.history.TimeSpan;
import java.io.PrintStream;
import java.time.Duration;
import java.time.Instant;
import java.util.Optional;
import java.util.concurrent.atomic.AtomicReference;
import org.jspecify.annotations.Nullable;
import picocli.CommandLine.Option;

/** Options of a survey that goes on while readings come in, and the waiting. */
final class EvennessLive {

    private static final double WAIT_HOURS = 72;
    private static final double WAIT_HOURS_MAX = 336;
    private static final double MINUTES_OF_HOUR = 60;

    @Option(
            names = "--live",
            description =
                    "survey from now on (or --from) while readings come in; says how it goes, ends"
                            + " by itself once settled for long enough, or by Ctrl-C")
    private boolean isLive;

    @Option(
            names = "--settled",
            paramLabel = "HOURS",
            description = "how long --live must be settled, 0.5 to 48; by default 12")
    private @Nullable Double settledHours;

    @Option(
            names = "--wait",
            paramLabel = "HOURS",
            description = "so long goes --live at most, 0.5 to 336; by default 72")
    private @Nullable Double waitHours;

    private final MonotonicClock clock = SystemClock.monotonic();

    /**
     * What came of it.
     *
     * @param report of what there is, however long it was
     * @param isWhole whether it was settled for as long as was asked for
     */
    record Outcome(EvennessReport report, boolean isWhole) {}

    boolean isLive() {
        return isLive;
    }

    /** Refuses what only makes sense with --live. */
    void requireNothingWithoutLive() {
        if (!isLive && (settledHours != null || waitHours != null)) {
            throw new IllegalArgumentException("--settled and --wait go with --live");
        }
    }

    /**
     * Waits until it is settled for long enough.
     *
     * @param begin since when readings count; empty: since the newest
     * @throws IllegalArgumentException when an option is out of range
     */
    Outcome await(
            SurveyQuestion question,
            HistoryQueries history,
            CabinetKey key,
            Optional<Instant> begin,
            PrintStream err) {
        Duration settled =
                hours(
                        "--settled",
                        settledHours,
                        LiveSurvey.SETTLED_USUAL.toMinutes() / MINUTES_OF_HOUR,
                        LiveSurvey.SETTLED_MAX.toMinutes() / MINUTES_OF_HOUR);
        Duration most = hours("--wait", waitHours, WAIT_HOURS, WAIT_HOURS_MAX);
        Instant since = begin.orElseGet(() -> newest(history, key));
        Wording wording = question.wording();
        LiveSurvey survey = new LiveSurvey(question, since, settled);
        err.println(
                "Surveying "
                        + key.cabinet()
                        + " from "
                        + wording.time(since)
                        + " on: keep its door shut. Ctrl-C ends it; what came until then can be"
                        + " surveyed with --from and --to.");
        AtomicReference<Optional<EvennessReport>> last = new AtomicReference<>(Optional.empty());
        Optional<EvennessReport> found =
                new LiveLook(clock, () -> newest(history, key), most, wording, err::println)
                        .await(
                                since,
                                now -> {
                                    LiveSurvey.Progress progress =
                                            survey.look(span -> readings(history, key, span), now);
                                    last.set(Optional.of(progress.report()));
                                    return new LiveLook.Seen<>(
                                            progress.isDone()
                                                    ? Optional.of(progress.report())
                                                    : Optional.empty(),
                                            progress.words());
                                });
        if (found.isEmpty()) {
            err.println("Not settled for long enough in time; this is what there is until now.");
        }
        return new Outcome(
                found.or(last::get).orElseThrow(() -> new IllegalStateException("never looked")),
                found.isPresent());
    }

    private static CabinetCurves readings(HistoryQueries history, CabinetKey key, TimeSpan span) {
        return history.everyReading(key, span);
    }

    private static Instant newest(HistoryQueries history, CabinetKey key) {
        return history.extent(key)
                .map(TimeSpan::to)
                .orElseThrow(() -> new IllegalArgumentException("no reading of " + key));
    }

    private static Duration hours(
            String option, @Nullable Double given, double usual, double most) {
        double hours = given == null ? usual : given;
        if (!(hours >= 0.5 && hours <= most)) {
            throw new IllegalArgumentException(
                    option + " must be 0.5 to " + Math.round(most) + " h but was " + hours);
        }
        return Duration.ofMillis(Math.round(hours * 3_600_000));
    }
}
