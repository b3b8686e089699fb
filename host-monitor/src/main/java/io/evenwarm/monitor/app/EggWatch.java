package io.evenwarm.monitor.app;

import io.evenwarm.message.CabinetSnapshot;
import io.evenwarm.monitor.alarm.NewtonTimeLeft;
import io.evenwarm.monitor.alarm.TimeLeft;
import io.evenwarm.monitor.history.CabinetKey;
import io.evenwarm.monitor.history.HistoryQueries;
import io.evenwarm.monitor.history.Tub;
import io.evenwarm.monitor.live.LiveCabinet;
import io.evenwarm.monitor.live.LiveView;
import io.evenwarm.monitor.live.Liveness;
import io.evenwarm.monitor.thermal.EggTrack;
import java.lang.System.Logger.Level;
import java.time.Duration;
import java.time.Instant;
import java.util.HashMap;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.concurrent.ConcurrentHashMap;
import java.util.concurrent.Executors;
import java.util.concurrent.Future;
import java.util.concurrent.RejectedExecutionException;
import java.util.concurrent.ScheduledExecutorService;
import java.util.concurrent.TimeUnit;
import java.util.function.Supplier;

/**
 * How long eggs have, by each cabinet's own thermal model, fitted and followed in the background.
 * Who asks never waits: the answer is the newest that is ready, less the time since. Where there is
 * no model, or a poor one, the conservative constants answer, and the words say so.
 */
final class EggWatch implements TimeLeft, AutoCloseable {

    private static final System.Logger LOG = System.getLogger(EggWatch.class.getName());

    /** By the agents' clocks, as all spans here: in a fast simulation they pass sooner. */
    private static final Duration FIT_EVERY = Duration.ofDays(1);

    private static final Duration TRY_AGAIN = Duration.ofMinutes(5);
    private static final Duration FORETELL_EVERY = Duration.ofMinutes(5);

    /** An older answer is none; one from further ahead is of a clock that was set back. */
    private static final Duration TRUE_FOR = Duration.ofMinutes(30);

    private static final long NANOS_PER_SECOND = 1_000_000_000L;

    private final HistoryQueries history;
    private final LiveView live;
    private final Supplier<List<Tub>> tubs;
    private final NewtonTimeLeft constants;
    private final double coldLimitCelsius;

    /** Used by the background thread only. */
    private final Map<CabinetKey, Followed> followed = new HashMap<>();

    private final Map<CabinetKey, EggModel.Times> times = new ConcurrentHashMap<>();
    private final Map<CabinetKey, EggTrack> tracks = new ConcurrentHashMap<>();
    private final Map<CabinetKey, String> whyNot = new ConcurrentHashMap<>();

    private final ScheduledExecutorService thread =
            Executors.newSingleThreadScheduledExecutor(
                    body -> {
                        Thread daemon = new Thread(body, "eggs' models");
                        daemon.setDaemon(true);
                        return daemon;
                    });

    /** A cabinet's model with when it was last worked on. */
    private static final class Followed {
        private final EggModel model;
        private long tick = -1;
        private Instant tried = Instant.MIN;
        private Instant foretold = Instant.MIN;
        private OptionalDouble kilograms = OptionalDouble.empty();

        Followed(CabinetKey key) {
            model = new EggModel(key);
        }
    }

    /**
     * @param history read by the background thread alone
     * @param tubs all that ever stood anywhere; asked at each fit
     */
    EggWatch(
            HistoryQueries history,
            LiveView live,
            Supplier<List<Tub>> tubs,
            NewtonTimeLeft.Assumptions assumed) {
        this.history = history;
        this.live = live;
        this.tubs = tubs;
        constants = new NewtonTimeLeft(assumed);
        coldLimitCelsius = assumed.coldLimitCelsius();
    }

    /** Begins to look, unless it was closed meanwhile. */
    void start() {
        try {
            Future<?> unused = thread.scheduleWithFixedDelay(this::round, 1, 1, TimeUnit.SECONDS);
        } catch (RejectedExecutionException closed) {
            LOG.log(Level.DEBUG, "closed before it began");
        }
    }

    /** One look at every cabinet. */
    void round() {
        for (LiveCabinet cabinet : live.cabinets()) {
            try {
                look(cabinet);
            } catch (RuntimeException e) {
                // The others, and the next look, must come all the same.
                times.remove(cabinet.key());
                tracks.remove(cabinet.key());
                whyNot.put(cabinet.key(), "its model failed");
                LOG.log(Level.WARNING, "the model of " + cabinet.key() + " failed", e);
            }
        }
    }

    private void look(LiveCabinet cabinet) {
        CabinetSnapshot snapshot = cabinet.snapshot();
        Followed its = followed.computeIfAbsent(cabinet.key(), Followed::new);
        if (cabinet.liveness() != Liveness.LIVE || snapshot.tick() == its.tick) {
            return;
        }
        its.tick = snapshot.tick();
        Instant now = snapshot.moment().wall();
        if (isDue(its.tried, now, its.model.isThere() ? FIT_EVERY : TRY_AGAIN)) {
            its.tried = now;
            List<Tub> there = tubs.get();
            its.kilograms = ThermalHistory.loadKilograms(cabinet.key(), there);
            its.model.fit(history, there, now);
            its.foretold = Instant.MIN;
        }
        its.model.add(snapshot);
        if (isDue(its.foretold, now, FORETELL_EVERY)) {
            its.foretold = now;
            whyNot.put(cabinet.key(), its.model.why());
            tracks.put(cabinet.key(), its.model.track());
            its.model
                    .times(snapshot, coldLimitCelsius)
                    .ifPresentOrElse(
                            ready -> times.put(cabinet.key(), ready),
                            () -> times.remove(cabinet.key()));
            if (!its.kilograms.equals(ThermalHistory.loadKilograms(cabinet.key(), tubs.get()))) {
                its.tried = Instant.MIN;
            }
        }
    }

    private static boolean isDue(Instant last, Instant now, Duration every) {
        return last.equals(Instant.MIN)
                || now.isBefore(last)
                || Duration.between(last, now).compareTo(every) >= 0;
    }

    @Override
    public Estimate of(CabinetSnapshot snapshot, double coldestEggCelsius) {
        return constants.of(snapshot, coldestEggCelsius);
    }

    @Override
    public Estimate of(CabinetKey key, CabinetSnapshot snapshot, double coldestEggCelsius) {
        EggModel.Times ready = times.get(key);
        if (ready == null) {
            return byConstants(key, snapshot, coldestEggCelsius);
        }
        Duration since = Duration.between(ready.from(), snapshot.moment().wall());
        if (since.abs().compareTo(TRUE_FOR) > 0) {
            return byConstants(key, snapshot, coldestEggCelsius);
        }
        double cold =
                EggModel.isFanOff(snapshot)
                        ? ready.withoutFan()
                        : Math.min(ready.withFan(), ready.withoutFan());
        double heat = NewtonTimeLeft.mayBeStuck(snapshot) ? ready.stuck() : ready.warmRoom();
        return new Estimate(
                left(cold, since),
                left(heat, since),
                OptionalDouble.of(coldLimitCelsius),
                OptionalDouble.of(ready.coldestCelsius()),
                words(ready));
    }

    /** How warm a cabinet's eggs were up to some minutes ago; empty before the first look. */
    Optional<EggTrack> track(CabinetKey key) {
        return Optional.ofNullable(tracks.get(key));
    }

    private Estimate byConstants(CabinetKey key, CabinetSnapshot snapshot, double coldest) {
        Estimate estimate = constants.of(snapshot, coldest);
        String why = whyNot.getOrDefault(key, "");
        return new Estimate(
                estimate.toCold(),
                estimate.toHeat(),
                estimate.coldLimitCelsius(),
                OptionalDouble.empty(),
                "no model of this cabinet"
                        + (why.isEmpty() ? "" : " (" + why + ")")
                        + ": "
                        + estimate.assumptions());
    }

    private static Optional<Duration> left(double seconds, Duration since) {
        if (!Double.isFinite(seconds)) {
            return Optional.empty();
        }
        Duration left = Duration.ofNanos((long) (seconds * NANOS_PER_SECOND)).minus(since);
        return Optional.of(left.isNegative() ? Duration.ZERO : left);
    }

    private String words(EggModel.Times ready) {
        return String.format(
                Locale.ROOT,
                "this cabinet's own model (off by %.2f K over days it was not fitted to): coldest"
                        + " eggs about %.1f °C, limit %.1f °C, no heat, or full heat where it may be"
                        + " stuck; room as yesterday",
                ready.heldOutKelvin(),
                ready.coldestCelsius(),
                coldLimitCelsius);
    }

    @Override
    public void close() {
        thread.shutdownNow();
    }
}
