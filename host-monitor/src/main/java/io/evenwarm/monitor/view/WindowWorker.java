package io.evenwarm.monitor.view;

import io.evenwarm.message.CabinetSnapshot;
import io.evenwarm.message.Limits;
import io.evenwarm.monitor.chart.ChartPainter;
import io.evenwarm.monitor.chart.ChartPicture;
import io.evenwarm.monitor.chart.ChartSpec;
import io.evenwarm.monitor.history.CabinetKey;
import io.evenwarm.monitor.history.TimeSpan;
import io.evenwarm.monitor.live.LiveCabinet;
import io.evenwarm.monitor.live.Liveness;
import io.evenwarm.monitor.view.WindowModel.ChartUpdate;
import io.evenwarm.monitor.view.WindowModel.LogUpdate;
import java.time.Duration;
import java.time.Instant;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.function.Supplier;

/**
 * Turns what is known and what the person chose into words and pictures, and leaves them at the
 * door. One call of {@link #step} looks once.
 *
 * <p>Belongs to one worker thread; only the parts that it was given are shared.
 */
final class WindowWorker {

    /** Where finished work goes; called on the window's thread. */
    interface Sink {
        void model(WindowModel model);

        void chart(ChartUpdate chart);

        void log(LogUpdate log);

        void alarms(AlarmsModel alarms);
    }

    /** A curve that is live redraws this often; with the door's own wait below a second. */
    private static final Duration REDRAW = Duration.ofMillis(700);

    /** History grows behind the live tail; it is asked again after this at the latest. */
    private static final Duration REFRESH_MAX = Duration.ofSeconds(10);

    private static final Duration REFRESH_MIN = Duration.ofSeconds(1);

    /**
     * Nor may the tail, which misses snapshots in a fast simulation, grow beyond a share of all.
     */
    private static final int TAILS_PER_SPAN = 40;

    /** History is left alone for this many times as long as it took to answer. */
    private static final int REFRESH_REST = 30;

    /** More than is seen is fetched, so that small moves need no new answer. */
    private static final double FETCH_MARGIN = 0.25;

    private static final Duration CLOCKS_AGREE = Duration.ofMinutes(1);

    private static final Duration LOG_SPAN_MIN = Duration.ofHours(24);

    private final WindowContext context;
    private final Supplier<ViewState> choices;
    private final String fontFamily;
    private final HistoryWorker history;
    private final AlarmWorker alarms;
    private final ThrottledDoor door;
    private final Sink sink;
    private final ModelMaker models;
    private final AlarmMaker alarmWords;
    private final ChartPainter painter = new ChartPainter();
    private final Map<CabinetKey, Tail> tails = new HashMap<>();

    private Optional<WindowModel> shownModel = Optional.empty();
    private Optional<AlarmsModel> shownAlarms = Optional.empty();
    private Optional<LogUpdate> shownLog = Optional.empty();
    private Optional<Drawn> drawn = Optional.empty();
    private Optional<HistoryWorker.Question> asked = Optional.empty();

    /** What the newest chart was drawn from, to see whether another is due. */
    private record Drawn(
            CabinetKey key, ViewState state, Optional<Long> answeredAtNanos, long drawnAtNanos) {}

    WindowWorker(
            WindowContext context,
            Supplier<ViewState> choices,
            String fontFamily,
            HistoryWorker history,
            AlarmWorker alarms,
            ThrottledDoor door,
            Sink sink) {
        this.context = context;
        this.choices = choices;
        this.fontFamily = fontFamily;
        this.history = history;
        this.alarms = alarms;
        this.door = door;
        this.sink = sink;
        this.models = new ModelMaker(context.zone());
        this.alarmWords = new AlarmMaker(context.zone());
    }

    void step() {
        ViewState state = choices.get();
        List<LiveCabinet> live = context.live().cabinets();
        for (LiveCabinet cabinet : live) {
            tails.computeIfAbsent(cabinet.key(), key -> new Tail()).add(cabinet.snapshot());
        }
        Instant wall = context.wall().now();
        AlarmsModel pressing = alarmWords.model(alarms.state(), state.unit(), wall);
        if (!shownAlarms.equals(Optional.of(pressing))) {
            shownAlarms = Optional.of(pressing);
            door.put(ThrottledDoor.Slot.ALARMS, () -> sink.alarms(pressing));
        }
        WindowModel model =
                models.model(
                        state,
                        live,
                        history.known(),
                        context.live().agents(),
                        pressing.cards(),
                        context.eggs(),
                        wall);
        if (!shownModel.equals(Optional.of(model))) {
            shownModel = Optional.of(model);
            door.put(ThrottledDoor.Slot.MODEL, () -> sink.model(model));
        }
        model.detail().ifPresent(detail -> chosen(detail.card().key(), state, live, wall));
        door.step();
    }

    private void chosen(CabinetKey key, ViewState state, List<LiveCabinet> live, Instant wall) {
        Optional<LiveCabinet> cabinet =
                live.stream().filter(its -> its.key().equals(key)).findFirst();
        Instant now = cabinet.map(WindowWorker::now).orElse(wall);
        Optional<HistoryWorker.Answer> answer =
                history.answer().filter(its -> its.question().key().equals(key));
        TimeSpan span = state.viewport().at(now, answer.flatMap(HistoryWorker.Answer::first));
        boolean wholeTerm =
                state.viewport().isFollowing() && state.viewport().choice() == SpanChoice.TERM;
        double clockRate = cabinet.map(LiveCabinet::clockRate).orElse(1.0);
        askHistory(key, span, wholeTerm, now, clockRate, answer);
        if (chartIsDue(key, state, answer)) {
            draw(key, state, cabinet, answer, span, now);
        }
        answer.ifPresent(its -> tellLog(key, state, its, now));
    }

    /** What the cabinet's own clock says now: in a fast simulation it runs ahead of ours. */
    private static Instant now(LiveCabinet cabinet) {
        double sinceNanos = cabinet.sinceReceived().toNanos() * cabinet.clockRate();
        return cabinet.snapshot().moment().wall().plusNanos((long) sinceNanos);
    }

    private void askHistory(
            CabinetKey key,
            TimeSpan span,
            boolean wholeTerm,
            Instant now,
            double clockRate,
            Optional<HistoryWorker.Answer> answer) {
        if (answer.isPresent() && covers(answer.get(), span, wholeTerm)) {
            HistoryWorker.Answer its = answer.get();
            long rest =
                    Math.max(
                            refresh(span, clockRate).toNanos(),
                            its.took().toNanos() * REFRESH_REST);
            if (context.monotonic().nanos() - its.answeredAtNanos() < rest) {
                return;
            }
        }
        if (isUnderway(key, span, wholeTerm, answer)) {
            return;
        }
        Duration margin = Duration.ofMillis(Math.round(span.length().toMillis() * FETCH_MARGIN));
        // Readings that are journalled while the answer is made are welcome too.
        Instant to = span.to().plus(margin);
        Instant logFrom = now.minus(LOG_SPAN_MIN);
        HistoryWorker.Question question =
                new HistoryWorker.Question(
                        key,
                        new TimeSpan(span.from().minus(margin), to),
                        wholeTerm,
                        new TimeSpan(
                                span.from().isBefore(logFrom) ? span.from() : logFrom,
                                now.plus(margin)));
        asked = Optional.of(question);
        history.ask(question);
    }

    /** Whether an unanswered question already asks for this. */
    private boolean isUnderway(
            CabinetKey key,
            TimeSpan span,
            boolean wholeTerm,
            Optional<HistoryWorker.Answer> answer) {
        return asked.filter(
                        its -> !Optional.of(its).equals(answer.map(HistoryWorker.Answer::question)))
                .filter(its -> its.key().equals(key) && its.wholeTerm() == wholeTerm)
                .filter(
                        its ->
                                wholeTerm
                                        || (!its.span().from().isAfter(span.from())
                                                && !its.span().to().isBefore(span.to())))
                .isPresent();
    }

    private static Duration refresh(TimeSpan span, double clockRate) {
        Duration wanted =
                Duration.ofMillis((long) (span.length().toMillis() / (TAILS_PER_SPAN * clockRate)));
        if (wanted.compareTo(REFRESH_MIN) < 0) {
            return REFRESH_MIN;
        }
        return wanted.compareTo(REFRESH_MAX) > 0 ? REFRESH_MAX : wanted;
    }

    private static boolean covers(HistoryWorker.Answer answer, TimeSpan span, boolean wholeTerm) {
        boolean fromBegin =
                !answer.span().from().isAfter(span.from())
                        || answer.first()
                                .map(first -> !first.isBefore(answer.span().from()))
                                .orElse(true);
        return fromBegin
                && !answer.span().to().isBefore(span.to())
                && (!wholeTerm || answer.question().wholeTerm());
    }

    private boolean chartIsDue(
            CabinetKey key, ViewState state, Optional<HistoryWorker.Answer> answer) {
        if (state.chart().width() < ChartSpec.Frame.MIN_WIDTH
                || state.chart().height() < ChartSpec.Frame.MIN_HEIGHT) {
            return false;
        }
        if (drawn.isEmpty()) {
            return true;
        }
        Drawn last = drawn.get();
        return !last.key().equals(key)
                || !last.state().equals(state)
                || !last.answeredAtNanos().equals(answer.map(HistoryWorker.Answer::answeredAtNanos))
                || context.monotonic().nanos() - last.drawnAtNanos() >= REDRAW.toNanos();
    }

    private void draw(
            CabinetKey key,
            ViewState state,
            Optional<LiveCabinet> cabinet,
            Optional<HistoryWorker.Answer> answer,
            TimeSpan span,
            Instant now) {
        Optional<Limits> limits = cabinet.map(LiveCabinet::snapshot).map(CabinetSnapshot::limits);
        Optional<Instant> silentSince =
                cabinet.isEmpty()
                        ? Optional.ofNullable(history.known().get(key)).map(TimeSpan::to)
                        : cabinet.filter(its -> its.liveness() != Liveness.LIVE)
                                .map(its -> its.snapshot().moment().wall());
        ChartSpec spec =
                SpecMaker.spec(
                        new ChartSpec.Frame(
                                state.chart().width(),
                                state.chart().height(),
                                state.chart().scale(),
                                fontFamily,
                                state.unit(),
                                context.zone()),
                        span,
                        state,
                        answer.flatMap(HistoryWorker.Answer::curves),
                        context.eggs().estimated(key),
                        Optional.ofNullable(tails.get(key)),
                        cabinet.map(LiveCabinet::clockRate).orElse(1.0),
                        limits,
                        silentSince);
        ChartPicture picture = painter.paint(spec);
        ChartUpdate update =
                new ChartUpdate(
                        key,
                        picture,
                        spec,
                        caption(span, now)
                                + (picture.roomHidden()
                                        ? "; the room's strip needs a taller window"
                                        : ""),
                        now,
                        ChartNotes.note(spec, answer, now, context.zone()));
        drawn =
                Optional.of(
                        new Drawn(
                                key,
                                state,
                                answer.map(HistoryWorker.Answer::answeredAtNanos),
                                context.monotonic().nanos()));
        door.put(ThrottledDoor.Slot.CHART, () -> sink.chart(update));
    }

    private String caption(TimeSpan span, Instant now) {
        return Words.span(span.from(), span.to(), now, context.zone())
                + ", local time "
                + Words.zone(context.zone(), now)
                + clockWords(Duration.between(context.wall().now(), now));
    }

    /** A cabinet's clock that differs from ours would make every time on the axis a riddle. */
    private static String clockWords(Duration ahead) {
        if (ahead.abs().compareTo(CLOCKS_AGREE) <= 0) {
            return "";
        }
        return "; the cabinet's clock is "
                + Words.duration(ahead.abs())
                + (ahead.isNegative() ? " behind" : " ahead of")
                + " this computer's";
    }

    private void tellLog(
            CabinetKey key, ViewState state, HistoryWorker.Answer answer, Instant now) {
        TimeSpan span = answer.question().logSpan();
        Duration length = Duration.between(span.from(), now);
        String stretch =
                answer.question().wholeTerm()
                        ? "the whole term"
                        : "since " + Words.moment(span.from(), now, context.zone());
        LogUpdate log =
                new LogUpdate(
                        key,
                        "Log of " + key.cabinet() + ", " + stretch,
                        answer.log().stream()
                                .map(entry -> LogLine.of(entry, now, context.zone(), state.unit()))
                                .toList(),
                        answer.trouble()
                                .orElse(
                                        "Nothing was out of order in these "
                                                + Words.duration(length)
                                                + "."));
        if (!shownLog.equals(Optional.of(log))) {
            shownLog = Optional.of(log);
            door.put(ThrottledDoor.Slot.LOG, () -> sink.log(log));
        }
    }
}
