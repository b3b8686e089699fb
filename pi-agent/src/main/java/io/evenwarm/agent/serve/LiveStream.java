package io.evenwarm.agent.serve;

import io.evenwarm.message.CabinetName;
import io.evenwarm.message.CabinetSnapshot;
import io.evenwarm.message.Message;
import java.util.HashMap;
import java.util.Map;
import java.util.Optional;

/**
 * Each cabinet's newest snapshot, once. What changes faster than the link takes is left out.
 *
 * <p>Used by the session's thread only.
 */
final class LiveStream {

    /** A simulation may tick hundreds of times a second; a person can't see it. */
    static final long SPACING_NANOS = 100_000_000L;

    private final SnapshotBoard board;
    private final Map<CabinetName, Sent> sent = new HashMap<>();

    LiveStream(SnapshotBoard board) {
        this.board = board;
    }

    /** The next snapshot that the other side has not got; the one that waited longest first. */
    Optional<Message.Live> next(long nowNanos) {
        Optional<CabinetSnapshot> chosen = Optional.empty();
        long longestWait = -1;
        for (CabinetSnapshot snapshot : board.all()) {
            Sent last = sent.get(snapshot.cabinet());
            long wait = last == null ? Long.MAX_VALUE : nowNanos - last.atNanos();
            boolean isNews = last == null || !last.snapshot().moment().equals(snapshot.moment());
            if (isNews && wait >= SPACING_NANOS && wait > longestWait) {
                longestWait = wait;
                chosen = Optional.of(snapshot);
            }
        }
        chosen.ifPresent(snapshot -> sent.put(snapshot.cabinet(), new Sent(snapshot, nowNanos)));
        return chosen.map(Message.Live::new);
    }

    private record Sent(CabinetSnapshot snapshot, long atNanos) {}
}
