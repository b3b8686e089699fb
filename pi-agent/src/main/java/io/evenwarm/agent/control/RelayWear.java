package io.evenwarm.agent.control;

import io.evenwarm.agent.plan.ControlPlan;
import java.util.Locale;
import java.util.Optional;

/**
 * Counts how often the heater's relay was switched on, and says when it will not last a term.
 *
 * <p>Called by the control thread only.
 */
public final class RelayWear {

    /** A term and some days: a relay that lasts less is changed before the next clutch. */
    static final double TERM_DAYS = 75;

    private static final int HOURS = 24;
    private static final double HOUR_SECONDS = 3600;

    private final ControlPlan plan;
    private final long[] inHour = new long[HOURS];
    private long operations;
    private boolean wasOn;
    private double hourSeconds;
    private int hour;
    private int hoursSeen;

    /**
     * @param operations how often it has switched so far, 0 or more
     */
    public RelayWear(ControlPlan plan, long operations) {
        this.plan = plan;
        this.operations = operations;
    }

    /** One tick: whether the relay was on in it. */
    public void step(boolean isOn, double elapsedSeconds) {
        if (isOn && !wasOn) {
            operations++;
            inHour[hour]++;
        }
        wasOn = isOn;
        hourSeconds += elapsedSeconds;
        if (hourSeconds >= HOUR_SECONDS) {
            hourSeconds = 0;
            hour = (hour + 1) % HOURS;
            inHour[hour] = 0;
            hoursSeen = Math.min(hoursSeen + 1, HOURS - 1);
        }
    }

    public long operations() {
        return operations;
    }

    /** Operations a day at the pace of the last day; 0 within the first hour. */
    double perDay() {
        long sum = 0;
        for (long each : inHour) {
            sum += each;
        }
        return hoursSeen == 0 ? 0 : sum * HOURS / (hoursSeen + hourSeconds / HOUR_SECONDS);
    }

    /** That the relay will not last a term, and when it ends; empty while it will. */
    public Optional<String> warning() {
        if (plan.relay() == ControlPlan.Relay.SOLID_STATE) {
            return Optional.empty();
        }
        double left = plan.ratedOperations() - operations;
        double perDay = perDay();
        if (left > 0 && (perDay <= 0 || left / perDay >= TERM_DAYS)) {
            return Optional.empty();
        }
        String when =
                left <= 0
                        ? "it is past its rated life"
                        : String.format(
                                Locale.ROOT,
                                "at %.0f a day it lasts %.0f days, less than a term",
                                perDay,
                                left / perDay);
        return Optional.of(
                String.format(
                        Locale.ROOT,
                        "heater relay: %d of %d rated operations; %s: change it before the next"
                                + " clutch",
                        operations,
                        plan.ratedOperations(),
                        when));
    }
}
