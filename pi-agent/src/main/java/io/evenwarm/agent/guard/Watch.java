package io.evenwarm.agent.guard;

import io.evenwarm.agent.guard.Persistence.Presence;
import io.evenwarm.agent.guard.health.LearnedRows;
import io.evenwarm.message.Finding;
import io.evenwarm.message.FindingCode;
import io.evenwarm.message.ProbeName;
import java.util.Optional;
import org.jspecify.annotations.Nullable;

/**
 * Looks for one trouble of one cabinet, tick by tick, and holds its finding while it lasts. A new
 * kind of finding is a new subclass, listed in {@link Watches}.
 */
abstract class Watch {

    /** The evidence is written again at most this often: texts cost more than all else here. */
    private static final long EVIDENCE_LASTS_NANOS = 10_000_000_000L;

    private final FindingCode code;
    private final Optional<ProbeName> probe;
    private final Persistence persistence;
    private @Nullable Finding finding;
    private long writtenAtNanos;

    Watch(
            FindingCode code,
            Optional<ProbeName> probe,
            double onDelaySeconds,
            double offDelaySeconds) {
        this.code = code;
        this.probe = probe;
        this.persistence = new Persistence(onDelaySeconds, offDelaySeconds);
    }

    /**
     * Whether the trouble is there in this tick.
     *
     * @param isRaised whether its finding is raised: where a dead band is due, the limit to fall
     *     back below is then another one
     */
    abstract Presence look(Circumstances now, boolean isRaised);

    /** What to tell a person; called when raised and from time to time while it lasts. */
    abstract Words words(Circumstances now);

    /** Judges this tick. Returns whether {@link #finding()} changed. */
    final boolean judge(Circumstances now) {
        boolean wasRaised = persistence.isRaised();
        boolean isRaised = persistence.update(look(now, wasRaised), now.nowNanos());
        if (!isRaised) {
            finding = null;
            return wasRaised;
        }
        if (wasRaised && now.nowNanos() - writtenAtNanos < EVIDENCE_LASTS_NANOS) {
            return false;
        }
        writtenAtNanos = now.nowNanos();
        Words words = words(now);
        Finding newest =
                new Finding(
                        code,
                        probe,
                        persistence.presentSinceNanos(),
                        words.evidence(),
                        words.action(),
                        words.advice());
        boolean isChanged = !newest.equals(finding);
        if (isChanged) {
            finding = newest;
        }
        return isChanged;
    }

    /**
     * Keeps through a restart for how long the trouble has been there, for one whose on-delay is
     * longer than agents run.
     */
    final void keepPresence(LearnedRows rows) {
        double seconds = rows.numberIfKept("present-seconds", persistence.presentSeconds(), 0);
        if (rows.isReading()) {
            persistence.resume(seconds);
        }
    }

    /** The finding, while it is raised. */
    final @Nullable Finding finding() {
        return finding;
    }

    /**
     * @param evidence the values that it was found from
     * @param action what the agent did by itself
     * @param advice what the person should do
     */
    record Words(String evidence, String action, String advice) {}
}
