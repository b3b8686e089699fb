package io.evenwarm.monitor.app;

import io.evenwarm.message.AgentName;
import io.evenwarm.message.JournalRecord;
import io.evenwarm.message.PreviousRun;
import io.evenwarm.message.ProbeName;
import io.evenwarm.message.ProbePlace;
import io.evenwarm.message.ProbeReading;
import io.evenwarm.message.Reading;
import io.evenwarm.monitor.Journal;
import io.evenwarm.monitor.store.HistoryStore;
import io.evenwarm.quantity.RelativeHumidity;
import java.io.IOException;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.EnumSet;
import java.util.List;
import java.util.Optional;
import java.util.Set;

/**
 * Some days of an invented cabinet "north" of agent "egg room" from {@link Journal#EPOCH} on, one
 * reading a minute, and a cut of the power after them; written into a store.
 */
final class LivedHistory {

    static final AgentName AGENT = new AgentName("egg room");

    /** What measures, beside a probe at the top. */
    enum Probe {
        BOTTOM,
        ROOM,
        HUMIDITY
    }

    private final List<JournalRecord> records = new ArrayList<>();
    private final Journal journal = new Journal();
    private final Cabinet cabinet = new Cabinet();
    private final Set<Probe> probes;
    private int minute;
    private int boots = 1;
    private double coldest = 31;
    private int everySeconds = 60;

    LivedHistory(Probe... probes) {
        this.probes = EnumSet.noneOf(Probe.class);
        this.probes.addAll(List.of(probes));
    }

    /** As much of a cabinet as the model has: 4 W/K, 200 W, 20 kJ/K, eggs of 60 kJ/K in 1.5 h. */
    private static final class Cabinet {
        private static final double STEP = 5;
        private double air = 31;
        private double eggs = 31;
        private double integral = 0.2;

        void minute(double duty, double lossWattsPerKelvin, double room) {
            for (int step = 0; step < 60 / STEP; step++) {
                double toEggs = 60_000 / 5400.0 * (air - eggs);
                air += (200 * duty - lossWattsPerKelvin * (air - room) - toEggs) / 20_000 * STEP;
                eggs += toEggs / 60_000 * STEP;
            }
        }

        double duty(double wish) {
            double wanted = 0.5 * (wish - air) + integral;
            double duty = Math.max(0, Math.min(1, wanted));
            integral += wanted == duty ? 0.002 * (wish - air) : 0;
            return duty;
        }
    }

    /** From here on more readings, alike within a minute. */
    LivedHistory readEach(int seconds) {
        everySeconds = seconds;
        return this;
    }

    /** What happens in a stretch of minutes. */
    enum Happens {
        /** Nothing: it is read and heated. */
        LIVES(true, true, true),
        /** No mains. */
        DARK(false, false, false),
        /** Heated, and nobody reads it. */
        HEATED_UNREAD(false, true, false),
        /** Read, told to heat, and no heat comes. */
        HEATER_DEAD(true, false, true);

        private final boolean isRead;
        private final boolean isHeated;
        private final boolean isTold;

        Happens(boolean isRead, boolean isHeated, boolean isTold) {
            this.isRead = isRead;
            this.isHeated = isHeated;
            this.isTold = isTold;
        }
    }

    /** Least that the eggs truly had so far, °C. */
    double coldest() {
        return coldest;
    }

    /** What the eggs truly have now, °C. */
    double eggs() {
        return cabinet.eggs;
    }

    /** The eggs are others from now on. */
    LivedHistory exchangeEggs(double celsius) {
        cabinet.eggs = celsius;
        coldest = Math.min(coldest, celsius);
        return this;
    }

    /** The second since the epoch of the journal that comes next. */
    double second() {
        return minute * 60.0;
    }

    /** Writes more into the journal than readings. */
    Journal journal() {
        return journal;
    }

    LivedHistory minutes(int count, Happens happens, Probe... unread) {
        Set<Probe> silent = EnumSet.noneOf(Probe.class);
        silent.addAll(List.of(unread));
        for (int i = 0; i < count; i++, minute++) {
            double room = 20 + 2 * Math.sin(2 * Math.PI * minute / 1440);
            double duty = happens.isTold || happens.isHeated ? cabinet.duty(31) : 0;
            // As it is now: nothing shows what the coming minute makes of it.
            ProbeReading[] readings = readings(room, silent);
            cabinet.minute(happens.isHeated ? duty : 0, 4, room);
            coldest = Math.min(coldest, cabinet.eggs);
            if (happens.isRead) {
                for (int second = 0; second < 60; second += everySeconds) {
                    journal.readings(minute * 60.0 + second, Journal.NORTH, duty, readings);
                }
            }
            records.addAll(journal.take());
        }
        return this;
    }

    private ProbeReading[] readings(double room, Set<Probe> silent) {
        List<ProbeReading> readings = new ArrayList<>();
        readings.add(Journal.good("top", ProbePlace.TOP, cabinet.air));
        if (probes.contains(Probe.BOTTOM)) {
            readings.add(
                    silent.contains(Probe.BOTTOM)
                            ? Journal.bad("bottom", ProbePlace.BOTTOM, Reading.Doubt.NOT_THERE)
                            : Journal.good("bottom", ProbePlace.BOTTOM, cabinet.air - 0.6));
        }
        if (probes.contains(Probe.ROOM) && !silent.contains(Probe.ROOM)) {
            readings.add(Journal.good("room", ProbePlace.AMBIENT, room));
        }
        if (probes.contains(Probe.HUMIDITY)) {
            readings.add(
                    new ProbeReading(
                            new ProbeName("damp"),
                            ProbePlace.MIDDLE,
                            new Reading.Good(
                                    RelativeHumidity.ofPercent(80 + (31 - cabinet.air)), 0)));
        }
        return readings.toArray(new ProbeReading[0]);
    }

    /** The agent starts now, and says that the power had failed. */
    LivedHistory startsAfterThePowerFailed() {
        JournalRecord.Readings last =
                (JournalRecord.Readings)
                        records.stream()
                                .filter(JournalRecord.Readings.class::isInstance)
                                .reduce((one, other) -> other)
                                .orElseThrow();
        journal.boot(++boots, second() - 20);
        journal.readings(second() - 20);
        JournalRecord first = journal.take().get(0);
        records.add(
                new JournalRecord.Event(
                        first.sequence(),
                        first.moment(),
                        Optional.empty(),
                        JournalRecord.Event.Kind.AGENT_STARTED,
                        Optional.empty(),
                        "agent started",
                        Optional.of(
                                new PreviousRun(
                                        PreviousRun.Ending.POWER_LOSS,
                                        Optional.of(last.moment())))));
        return this;
    }

    /** The agent starts now and its readings are lost. */
    LivedHistory startsUnread() {
        journal.boot(++boots, second());
        journal.agentEvent(second(), JournalRecord.Event.Kind.AGENT_STARTED, "agent started");
        records.addAll(journal.take());
        return this;
    }

    /** Days, a cut of so many minutes that the agent tells of, and 400 minutes after it. */
    LivedHistory cut(double days, int minutes) {
        minutes((int) (days * 1440), Happens.LIVES);
        minutes(minutes, Happens.DARK);
        startsAfterThePowerFailed();
        return minutes(400, Happens.LIVES);
    }

    void store(Path data) throws IOException {
        records.addAll(journal.take());
        try (HistoryStore store = HistoryStore.open(data)) {
            store.append(AGENT, "journal", records);
        }
    }
}
