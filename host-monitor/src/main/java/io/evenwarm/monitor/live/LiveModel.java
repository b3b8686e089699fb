package io.evenwarm.monitor.live;

import io.evenwarm.clock.MonotonicClock;
import io.evenwarm.message.AgentName;
import io.evenwarm.message.CabinetSnapshot;
import io.evenwarm.monitor.history.CabinetKey;
import java.time.Duration;
import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.OptionalLong;
import java.util.TreeMap;
import java.util.concurrent.CopyOnWriteArrayList;
import java.util.concurrent.TimeUnit;

/**
 * The newest snapshot of every cabinet, and how old it is.
 *
 * <p>A cabinet is live while its newest snapshot is at most {@value #LIVE_SECONDS_MAX} s old:
 * agents send one a second, so that is five in a row that did not come. It is stale up to {@value
 * #STALE_SECONDS_MAX} s, about what a short radio hole or a reconnect takes, and lost from then on,
 * or as soon as its agent's link is down. Ages are in the monitor's own seconds and on its
 * monotonic clock: an agent's idea of the time makes nothing look alive.
 *
 * <p>Threads: any may call. Listeners hear of changes on the caller's thread, with no lock held.
 */
public final class LiveModel implements LiveView {

    public static final int LIVE_SECONDS_MAX = 5;
    public static final int STALE_SECONDS_MAX = 30;

    private final MonotonicClock clock;
    private final List<Runnable> listeners = new CopyOnWriteArrayList<>();
    private final Object lock = new Object();

    /** Guarded by {@link #lock}. One a cabinet, so its size is what agents have cabinets. */
    private final TreeMap<CabinetKey, Received> newest = new TreeMap<>();

    /** Guarded by {@link #lock}. Always holds exactly the agents of the settings. */
    private final TreeMap<AgentName, LinkState> links = new TreeMap<>();

    private record Received(CabinetSnapshot snapshot, double clockRate, long atNanos) {}

    /**
     * How the link to an agent stands.
     *
     * @param isUp whether messages pass
     * @param words what is going on, for a person
     * @param nextTryAtNanos monotonic time of the next attempt, where one is planned
     */
    public record LinkState(boolean isUp, String words, OptionalLong nextTryAtNanos) {

        public static LinkState up(String words) {
            return new LinkState(true, words, OptionalLong.empty());
        }

        public static LinkState down(String words) {
            return new LinkState(false, words, OptionalLong.empty());
        }

        public static LinkState downUntil(String words, long nextTryAtNanos) {
            return new LinkState(false, words, OptionalLong.of(nextTryAtNanos));
        }
    }

    /**
     * @param clock tells the age of snapshots
     * @param agents every agent of the settings
     */
    public LiveModel(MonotonicClock clock, List<AgentName> agents) {
        this.clock = clock;
        for (AgentName agent : agents) {
            links.put(agent, LinkState.down("not connected yet"));
        }
    }

    /**
     * Calls back after every change, on the thread that made it: must return at once. Liveness also
     * falls as time passes, of which nobody is told: ask at least once a second.
     *
     * @return ends the calls when run
     */
    public Runnable onChange(Runnable listener) {
        listeners.add(listener);
        return () -> listeners.remove(listener);
    }

    /**
     * A snapshot came.
     *
     * @param agent one of the settings' agents
     * @param clockRate how many of the agent's seconds pass in one of ours
     */
    public void received(AgentName agent, double clockRate, CabinetSnapshot snapshot) {
        synchronized (lock) {
            newest.put(
                    new CabinetKey(agent, snapshot.cabinet()),
                    new Received(snapshot, clockRate, clock.nanos()));
        }
        tell();
    }

    /** The link to an agent came up, went down, or has something new to say. */
    public void linkChanged(AgentName agent, LinkState state) {
        synchronized (lock) {
            links.put(agent, state);
        }
        tell();
    }

    private void tell() {
        for (Runnable listener : listeners) {
            listener.run();
        }
    }

    @Override
    public List<LiveCabinet> cabinets() {
        synchronized (lock) {
            long now = clock.nanos();
            List<LiveCabinet> judged = new ArrayList<>(newest.size());
            for (Map.Entry<CabinetKey, Received> entry : newest.entrySet()) {
                Received received = entry.getValue();
                Duration age = Duration.ofNanos(Math.max(0, now - received.atNanos));
                LinkState link = links.get(entry.getKey().agent());
                judged.add(
                        new LiveCabinet(
                                entry.getKey(),
                                received.snapshot,
                                judge(link != null && link.isUp, age),
                                age,
                                received.clockRate));
            }
            return List.copyOf(judged);
        }
    }

    private static Liveness judge(boolean linkIsUp, Duration age) {
        if (!linkIsUp || age.compareTo(Duration.ofSeconds(STALE_SECONDS_MAX)) > 0) {
            return Liveness.LOST;
        }
        return age.compareTo(Duration.ofSeconds(LIVE_SECONDS_MAX)) > 0
                ? Liveness.STALE
                : Liveness.LIVE;
    }

    @Override
    public List<AgentState> agents() {
        synchronized (lock) {
            long now = clock.nanos();
            List<AgentState> states = new ArrayList<>(links.size());
            links.forEach(
                    (agent, link) ->
                            states.add(new AgentState(agent, link.isUp, words(link, now))));
            return List.copyOf(states);
        }
    }

    private static String words(LinkState link, long now) {
        if (link.nextTryAtNanos.isEmpty()) {
            return link.words;
        }
        long wait = link.nextTryAtNanos.getAsLong() - now;
        // Rounded up, so that "next try in 0 s" never stands there for a second.
        long seconds = TimeUnit.NANOSECONDS.toSeconds(wait + 999_999_999L);
        return seconds > 0
                ? link.words + "; next try in " + seconds + " s"
                : link.words + "; trying again";
    }
}
