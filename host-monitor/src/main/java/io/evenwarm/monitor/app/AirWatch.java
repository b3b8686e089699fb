package io.evenwarm.monitor.app;

import io.evenwarm.clock.WallClock;
import io.evenwarm.message.FindingCode;
import io.evenwarm.message.ProbeName;
import io.evenwarm.monitor.alarm.AlarmCodes;
import io.evenwarm.monitor.alarm.AlarmKey;
import io.evenwarm.monitor.alarm.AlarmWords;
import io.evenwarm.monitor.alarm.Fact;
import io.evenwarm.monitor.alarm.Subject;
import io.evenwarm.monitor.evenness.AirWords;
import io.evenwarm.monitor.evenness.CabinetAir;
import io.evenwarm.monitor.evenness.ProbeAstray;
import io.evenwarm.monitor.evenness.ProbeEntry;
import io.evenwarm.monitor.evenness.ProbeOffset;
import io.evenwarm.monitor.evenness.ProbeRecord;
import io.evenwarm.monitor.evenness.Wording;
import io.evenwarm.monitor.history.CabinetKey;
import io.evenwarm.monitor.history.HistoryQueries;
import io.evenwarm.monitor.history.ProbeCurve;
import io.evenwarm.monitor.report.AirHistory;
import io.evenwarm.monitor.store.StoreOutside;
import io.evenwarm.quantity.TemperatureUnit;
import java.io.IOException;
import java.io.UncheckedIOException;
import java.lang.System.Logger.Level;
import java.time.Instant;
import java.time.ZoneId;
import java.util.ArrayList;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.concurrent.Executors;
import java.util.concurrent.Future;
import java.util.concurrent.ScheduledExecutorService;
import java.util.concurrent.TimeUnit;
import java.util.function.Supplier;

/**
 * Looks at each cabinet's long record once a minute: air flow, probes that no longer agree, checks
 * that are due. After a start it reads what it needs to know how things stand, in the background;
 * until then it has nothing to tell, and what was told before the start stands.
 */
final class AirWatch implements Supplier<List<Fact>>, AutoCloseable {

    private static final System.Logger LOG = System.getLogger(AirWatch.class.getName());
    private static final long EVERY_SECONDS = 60;
    private static final long FIRST_AFTER_SECONDS = 5;

    private final HistoryQueries history;
    private final StoreOutside store;
    private final WallClock clock;
    private final Wording wording;
    private final AirWords words;
    private final Map<CabinetKey, AirHistory> histories = new HashMap<>();
    private volatile List<Fact> facts = List.of();
    private boolean wasFailing;

    private final ScheduledExecutorService thread =
            Executors.newSingleThreadScheduledExecutor(
                    body -> {
                        Thread daemon = new Thread(body, "air watch");
                        daemon.setDaemon(true);
                        return daemon;
                    });

    /**
     * @param history read by this thread alone
     * @param store what is known of probes
     * @param zone of times in words
     */
    AirWatch(HistoryQueries history, StoreOutside store, WallClock clock, ZoneId zone) {
        this.history = history;
        this.store = store;
        this.clock = clock;
        // Alarms are kept in Celsius and kelvins, and shown in the unit that a person chose.
        wording = new Wording(TemperatureUnit.CELSIUS, zone);
        words = new AirWords(wording);
    }

    /** Begins to look, unless it was closed. */
    synchronized void start() {
        if (thread.isShutdown()) {
            return;
        }
        Future<?> unused =
                thread.scheduleWithFixedDelay(
                        this::look, FIRST_AFTER_SECONDS, EVERY_SECONDS, TimeUnit.SECONDS);
    }

    /** One look at every cabinet. */
    void look() {
        try {
            ProbeRecord record = store.probeRecord();
            List<Fact> found = new ArrayList<>();
            for (CabinetKey key : history.cabinets()) {
                Optional<Instant> begin = store.flowBegin(key);
                AirHistory its = histories.get(key);
                if (its == null || !its.isOf(record, begin)) {
                    its = new AirHistory(key, record, begin);
                    histories.put(key, its);
                }
                found.addAll(facts(key, its.readToKnowNow(history), record));
            }
            facts = List.copyOf(found);
            wasFailing = false;
        } catch (IOException | UncheckedIOException e) {
            if (!wasFailing) {
                LOG.log(Level.WARNING, () -> "the long record can't be read: " + e.getMessage());
            }
            wasFailing = true;
        } catch (RuntimeException e) {
            // The next look must come all the same.
            LOG.log(Level.ERROR, "looking at the long record failed", e);
        }
    }

    private List<Fact> facts(CabinetKey key, CabinetAir air, ProbeRecord record) {
        List<Fact> found = new ArrayList<>();
        found.add(
                fact(
                        key,
                        AlarmCodes.AIR_FLOW_WEAK,
                        Optional.empty(),
                        air.flow()
                                .state()
                                .fold(
                                        learning -> Optional.empty(),
                                        steady -> Optional.empty(),
                                        weak -> Optional.of(words.evidence(weak)),
                                        stopped -> Optional.of(words.evidence(stopped))),
                        "Look at the fan, its grilles, and how full the shelves are. The chart is in"
                                + " the window and by: evenwarm airflow "
                                + key.cabinet()
                                + " --page FILE. After a new fan or shelf: evenwarm airflow "
                                + key.cabinet()
                                + " --anew WHY."));
        List<ProbeName> there =
                ProbeTable.thermometers(history, key).stream()
                        .map(ProbeCurve::probe)
                        .distinct()
                        .toList();
        for (ProbeName probe : there) {
            found.add(
                    fact(
                            key,
                            FindingCode.PROBES_DISAGREE,
                            Optional.of(probe),
                            air.astray().stream()
                                    .filter(astray -> astray.probe().equals(probe))
                                    .findFirst()
                                    .map((ProbeAstray astray) -> words.evidence(astray)),
                            "Check the probes: evenwarm probes check "
                                    + key.cabinet()
                                    + ". If one was moved on purpose: evenwarm airflow "
                                    + key.cabinet()
                                    + " --anew WHY."));
        }
        found.add(
                fact(
                        key,
                        AlarmCodes.PROBE_CHECK_DUE,
                        Optional.empty(),
                        due(key, there, record),
                        "Compare them with melting ice or a reference: evenwarm probes check "
                                + key.cabinet()
                                + "."));
        return found;
    }

    private Optional<String> due(CabinetKey key, List<ProbeName> probes, ProbeRecord record) {
        Instant now = ProbeTable.now(history, key, clock.now());
        List<String> due = new ArrayList<>();
        for (ProbeName probe : probes) {
            if (record.isDue(key, probe, now, ProbeOffset.USUAL_INTERVAL)) {
                due.add(
                        probe
                                + " ("
                                + record.lastCheck(key, probe, now)
                                        .map(ProbeEntry::at)
                                        .map(wording::time)
                                        .orElse("")
                                + ")");
            }
        }
        return due.isEmpty()
                ? Optional.empty()
                : Optional.of(
                        "the last check of "
                                + String.join(", ", due)
                                + " is more than "
                                + ProbeOffset.USUAL_INTERVAL.toDays()
                                + " days ago");
    }

    private static Fact fact(
            CabinetKey key,
            FindingCode code,
            Optional<ProbeName> probe,
            Optional<String> evidence,
            String advice) {
        return new Fact(
                new AlarmKey(Subject.of(key), code, probe),
                evidence.isPresent(),
                new AlarmWords(
                        evidence.orElse(""), "The agent goes on by its own readings.", advice));
    }

    /** Waits for nothing. */
    @Override
    public List<Fact> get() {
        return facts;
    }

    @Override
    public synchronized void close() {
        thread.shutdownNow();
    }
}
