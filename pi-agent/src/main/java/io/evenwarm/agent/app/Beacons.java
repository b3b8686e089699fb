package io.evenwarm.agent.app;

import io.evenwarm.agent.beacon.BrokerBeacon;
import io.evenwarm.agent.beacon.UrgentFindings;
import io.evenwarm.agent.serve.SnapshotBoard;
import io.evenwarm.clock.MonotonicClock;
import io.evenwarm.codec.JsonText;
import io.evenwarm.message.CabinetSnapshot;
import io.evenwarm.outside.SwitchFeed;
import java.time.Duration;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.function.BooleanSupplier;
import java.util.function.Supplier;

/** What the agent says when no monitor is there, as far as it is configured. */
final class Beacons implements AutoCloseable {

    /** A cabinet whose ticks have stopped for so long is not controlled. */
    private static final Duration SILENT_MAX = Duration.ofSeconds(15);

    /** So long a monitor may take to come back before the agent speaks up by itself. */
    private static final Duration ALONE_MAX = Duration.ofMinutes(2);

    private final Optional<BrokerBeacon> broker;
    private final Optional<SwitchFeed> feed;

    private Beacons(Optional<BrokerBeacon> broker, Optional<SwitchFeed> feed) {
        this.broker = broker;
        this.feed = feed;
    }

    /**
     * Starts what is configured.
     *
     * @param real real time, also where cabinets are simulated at another speed
     * @param monitorThere whether a monitor is connected
     */
    static Beacons start(
            AgentConfiguration configuration,
            SnapshotBoard board,
            MonotonicClock real,
            BooleanSupplier monitorThere) {
        int cabinets = configuration.cabinets().size();
        Optional<BrokerBeacon> broker =
                configuration
                        .beacon()
                        .broker()
                        .map(
                                settings ->
                                        BrokerBeacon.start(
                                                settings,
                                                board::all,
                                                snapshot ->
                                                        JsonText.object(
                                                                StatusJson.cabinet(snapshot)),
                                                real));
        Optional<SwitchFeed> feed =
                configuration
                        .beacon()
                        .feed()
                        .map(
                                settings ->
                                        SwitchFeed.start(
                                                settings.plan(),
                                                configuration.name().value(),
                                                new Trouble(
                                                        board,
                                                        cabinets,
                                                        real,
                                                        settings.stopWhenAlone()
                                                                ? monitorThere
                                                                : () -> true)));
        return new Beacons(broker, feed);
    }

    @Override
    public void close() {
        feed.ifPresent(SwitchFeed::close);
        broker.ifPresent(BrokerBeacon::close);
    }

    /** Why the outside switch must not be called. Asked by the feed's thread only. */
    static final class Trouble implements Supplier<Optional<String>> {
        private final SnapshotBoard board;
        private final int cabinets;
        private final MonotonicClock real;
        private final BooleanSupplier monitorThere;
        private final Map<String, Seen> seen = new HashMap<>();
        private long aloneSinceNanos;
        private boolean isAlone;

        private record Seen(long tick, long atNanos) {}

        Trouble(
                SnapshotBoard board,
                int cabinets,
                MonotonicClock real,
                BooleanSupplier monitorThere) {
            this.board = board;
            this.cabinets = cabinets;
            this.real = real;
            this.monitorThere = monitorThere;
        }

        @Override
        public Optional<String> get() {
            long nowNanos = real.nanos();
            List<CabinetSnapshot> snapshots = board.all();
            if (snapshots.size() < cabinets) {
                return Optional.of(
                        (cabinets - snapshots.size()) + " of " + cabinets + " cabinets don't run");
            }
            for (CabinetSnapshot snapshot : snapshots) {
                if (isStill(snapshot, nowNanos)) {
                    return Optional.of("cabinet " + snapshot.cabinet() + " is not controlled");
                }
            }
            boolean wasAlone = isAlone;
            isAlone = !monitorThere.getAsBoolean();
            if (!wasAlone) {
                aloneSinceNanos = nowNanos;
            }
            return isAlone && nowNanos - aloneSinceNanos >= ALONE_MAX.toNanos()
                    ? UrgentFindings.first(snapshots, ALONE_MAX.toNanos())
                    : Optional.empty();
        }

        private boolean isStill(CabinetSnapshot snapshot, long nowNanos) {
            String name = snapshot.cabinet().value();
            Seen last = seen.get(name);
            if (last == null || last.tick() != snapshot.tick()) {
                seen.put(name, new Seen(snapshot.tick(), nowNanos));
                return false;
            }
            return nowNanos - last.atNanos() >= SILENT_MAX.toNanos();
        }
    }
}
