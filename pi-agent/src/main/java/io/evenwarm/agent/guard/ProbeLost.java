package io.evenwarm.agent.guard;

import io.evenwarm.agent.guard.Persistence.Presence;
import io.evenwarm.agent.plan.ProbePlan;
import io.evenwarm.message.FindingCode;
import io.evenwarm.message.Reading;
import java.util.Optional;

/** One probe gives no good reading. */
final class ProbeLost extends Watch {

    private static final double SHORTEST_DELAY_SECONDS = 10;
    private static final double OFF_DELAY_SECONDS = 60;
    private static final double NANOS_PER_SECOND = 1e9;

    private final ProbePlan probe;
    private final int index;

    ProbeLost(ProbePlan probe, int index) {
        super(
                FindingCode.PROBE_LOST,
                Optional.of(probe.name()),
                Math.max(SHORTEST_DELAY_SECONDS, probe.staleAfterSeconds()),
                OFF_DELAY_SECONDS);
        this.probe = probe;
        this.index = index;
    }

    @Override
    Presence look(Circumstances now, boolean isRaised) {
        return Presence.of(!(readingIn(now) instanceof Reading.Good));
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
