package io.evenwarm.agent.guard;

import io.evenwarm.agent.guard.Persistence.Presence;
import io.evenwarm.agent.plan.ProbePlan;
import io.evenwarm.message.FindingCode;
import io.evenwarm.message.Reading;
import java.util.Optional;

/**
 * One probe gives no good reading. Where the last good one has become too old there is nothing left
 * to wait for; a probe that never gave one, or only such that must still be confirmed, and any
 * probe after a pause of the ticks, gets as long as a reading may be old.
 */
final class ProbeLost extends Watch {

    private static final double SHORTEST_DELAY_SECONDS = 10;

    /** The reading that was waited for may come with the next round of the bus. */
    private static final double ON_DELAY_SECONDS = 2;

    /** A tick later than this was a pause: the samples may have stood still with the ticks. */
    private static final double PAUSE_SECONDS = 3;

    private static final double OFF_DELAY_SECONDS = 60;
    private static final double NANOS_PER_SECOND = 1e9;

    private final ProbePlan probe;
    private final int index;
    private final long waitingNanos;
    private boolean wasGood;
    private boolean isSilent;
    private long silentSinceNanos;

    ProbeLost(ProbePlan probe, int index) {
        super(
                FindingCode.PROBE_LOST,
                Optional.of(probe.name()),
                ON_DELAY_SECONDS,
                OFF_DELAY_SECONDS);
        double waitingSeconds = Math.max(SHORTEST_DELAY_SECONDS, probe.staleAfterSeconds());
        waitingNanos = (long) ((waitingSeconds - ON_DELAY_SECONDS) * NANOS_PER_SECOND);
        this.probe = probe;
        this.index = index;
    }

    @Override
    Presence look(Circumstances now, boolean isRaised) {
        boolean isPause = now.facts().secondsSinceLastTick() > PAUSE_SECONDS;
        wasGood &= !isPause;
        Reading reading = readingIn(now);
        if (reading instanceof Reading.Good) {
            wasGood = true;
            isSilent = false;
            return Presence.ABSENT;
        }
        if (!isSilent || isPause) {
            isSilent = true;
            silentSinceNanos = now.nowNanos();
        }
        boolean isTooOld = wasGood && reading instanceof Reading.Bad;
        return Presence.of(isTooOld || now.nowNanos() - silentSinceNanos >= waitingNanos);
    }

    private Reading readingIn(Circumstances now) {
        return now.state().readings().get(index).reading();
    }

    @Override
    Words words(Circumstances now) {
        return new Words(
                readingIn(now)
                        .fold(
                                good -> "good again, not yet for long",
                                uncertain -> uncertain.doubt().words(),
                                bad -> badWords(bad, now)),
                probe.place().kind().isAir()
                        ? "steers and guards by the other probes; with none left, heat is off"
                        : "heats as before: this probe steers nothing",
                "Check this probe's plug and cable, and where it hangs; then its driver's file or"
                        + " address in the configuration.");
    }

    private static String badWords(Reading.Bad bad, Circumstances now) {
        if (bad.doubt() != Reading.Doubt.STALE) {
            return bad.doubt().words();
        }
        // In tens of seconds, so that the words do not change for every look.
        long seconds = (long) ((now.nowNanos() - bad.sampledAtNanos()) / NANOS_PER_SECOND);
        return seconds < 120
                ? "last value " + seconds / 10 * 10 + " s old"
                : "last value " + seconds / 60 + " min old";
    }
}
