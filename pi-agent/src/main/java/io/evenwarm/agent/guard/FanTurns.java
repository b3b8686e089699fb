package io.evenwarm.agent.guard;

import io.evenwarm.agent.guard.health.LearnedRows;
import java.util.OptionalDouble;

/**
 * What a fan's tachometer has shown so far: how fast this fan turns when it is sound, learned from
 * itself. The first {@value #LEARNING_SECONDS} s at speed give the measure; later it may only rise,
 * slowly, so that a fan which weakens over weeks does not take its measure along.
 */
final class FanTurns {

    /** A fan needs so long to come up to speed. */
    private static final double SPIN_UP_SECONDS = 10;

    private static final double LEARNING_SECONDS = 300;
    private static final double RISING_SECONDS = 3600;

    private double drivenSeconds;
    private double learnedSeconds;
    private double usualTurns;
    private double turns = Double.NaN;

    /** Takes a tick in. */
    void update(TickFacts facts) {
        OptionalDouble counted = facts.signs().fanTurnsPerMinute();
        drivenSeconds = facts.signs().wasFanOn() ? drivenSeconds + facts.secondsSinceLastTick() : 0;
        boolean isJudged = counted.isPresent() && drivenSeconds >= SPIN_UP_SECONDS;
        turns = isJudged ? counted.getAsDouble() : Double.NaN;
        if (!(turns > 0)) {
            return;
        }
        if (learnedSeconds < LEARNING_SECONDS) {
            double seconds = facts.secondsSinceLastTick();
            learnedSeconds += seconds;
            usualTurns += (turns - usualTurns) * Math.min(1, seconds / learnedSeconds);
        } else if (turns > usualTurns) {
            usualTurns +=
                    (turns - usualTurns)
                            * Math.min(1, facts.secondsSinceLastTick() / RISING_SECONDS);
        }
    }

    /** Whether the fan's turns are known and it had time to come up to speed. */
    boolean isKnown() {
        return !Double.isNaN(turns);
    }

    /** Revolutions per minute now; only when {@link #isKnown}. */
    double now() {
        return turns;
    }

    /** Revolutions per minute of this fan when sound; 0 until it has turned. */
    double usual() {
        return usualTurns;
    }

    /** Turns now as a share of the usual ones; 1 while none are known. */
    double share() {
        return usualTurns > 0 ? turns / usualTurns : turns > 0 ? 1 : 0;
    }

    /** What is kept through a restart. */
    void learned(LearnedRows rows) {
        learnedSeconds = rows.number("learned-seconds", learnedSeconds);
        usualTurns = rows.number("usual", usualTurns);
    }
}
