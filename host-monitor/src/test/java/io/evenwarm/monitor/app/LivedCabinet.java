package io.evenwarm.monitor.app;

import io.evenwarm.message.AgentName;
import io.evenwarm.message.ProbePlace;
import io.evenwarm.message.ProbeReading;
import io.evenwarm.monitor.Journal;
import io.evenwarm.monitor.store.HistoryStore;
import java.io.IOException;
import java.nio.file.Path;
import java.util.List;
import java.util.OptionalInt;

/**
 * An invented cabinet that is colder at night: air with walls, and eggs, by small explicit steps: 4
 * W/K, 200 W, 20 kJ/K and 60 kJ/K that follow the air in 1.5 h.
 */
final class LivedCabinet {

    static final AgentName AGENT = new AgentName("egg room");

    private static final double STEP = 5;

    double eggs = 31;
    private double air = 31;
    private double room = 20;
    private double integral = 0.2;

    void minute(double duty, double room) {
        this.room = room;
        for (int step = 0; step < 60 / STEP; step++) {
            double toEggs = 60_000 / 5400.0 * (air - eggs);
            air += (200 * duty - 4 * (air - room) - toEggs) / 20_000 * STEP;
            eggs += toEggs / 60_000 * STEP;
        }
    }

    List<ProbeReading> probes() {
        return List.of(
                Journal.good("top", ProbePlace.TOP, air + 0.2),
                Journal.good("bottom", ProbePlace.BOTTOM, air - 0.2),
                Journal.good("room", ProbePlace.AMBIENT, room));
    }

    /** The room in some minute of its life. */
    static double roomCelsius(int minute) {
        return 20 + 2 * Math.sin(2 * Math.PI * minute / 1440);
    }

    private double duty(double wish) {
        double wanted = 0.5 * (wish - air) + integral;
        double duty = Math.max(0, Math.min(1, wanted));
        integral += wanted == duty ? 0.002 * (wish - air) : 0;
        return duty;
    }

    /** One that has lived for some days, with its readings in the store of a folder. */
    static LivedCabinet lived(Path data, double days) throws IOException {
        return lived(data, days, OptionalInt.empty(), false);
    }

    /**
     * The same, with eggs as cold as the room from some minute on.
     *
     * @param isAnnounced whether the keeper told the agent that there is work to do
     */
    static LivedCabinet lived(Path data, double days, OptionalInt reloaded, boolean isAnnounced)
            throws IOException {
        Journal journal = new Journal();
        LivedCabinet cabinet = new LivedCabinet();
        for (int minute = 0; minute < days * 1440; minute++) {
            double hour = minute / 60.0 % 24;
            double duty = cabinet.duty(hour < 6 ? 28.5 : 31);
            if (reloaded.equals(OptionalInt.of(minute))) {
                cabinet.eggs = cabinet.room;
                if (isAnnounced) {
                    journal.workBegun(minute * 60.0);
                }
            }
            cabinet.minute(duty, roomCelsius(minute));
            journal.readings(
                    minute * 60.0,
                    Journal.NORTH,
                    duty,
                    cabinet.probes().toArray(ProbeReading[]::new));
        }
        try (HistoryStore store = HistoryStore.open(data)) {
            store.append(AGENT, "journal", journal.take());
        }
        return cabinet;
    }
}
