package io.evenwarm.agent.guard;

import io.evenwarm.agent.plan.CabinetPlan;
import io.evenwarm.message.Limits;
import io.evenwarm.quantity.Temperature;
import java.util.Optional;

/**
 * Which limits and set points a cabinet may have. Nothing that a person or a program commands moves
 * the cut-off or the ceiling.
 *
 * <p>The cold and warm limits are deviation limits: they move with a commanded set point, at the
 * distance that the configuration gives them (the example of OPC UA Part 9, 5.8.22.1: set point 10
 * with +2 and −1 alarms above 12 and below 9; set point 11, above 13 and below 10). The warm limit
 * never passes the cut-off.
 */
final class LimitRules {

    /** No reptile's eggs are incubated colder; lower is a slip of the finger. */
    static final double LOWEST_SET_POINT_CELSIUS = 10;

    /** A set point nearer to the cut-off would trip it by its own overshoot. */
    static final double CUT_OFF_DISTANCE_KELVIN = 1.0;

    private final Temperature configuredSetPoint;
    private final Limits configured;
    private final Temperature cutOff;

    LimitRules(CabinetPlan plan) {
        configuredSetPoint = plan.setPoint();
        configured = plan.limits();
        cutOff = lowerOf(configured.cutOff(), configured.ceiling());
    }

    /** The cut-off in force, never above the ceiling. */
    Temperature cutOff() {
        return cutOff;
    }

    /** Halfway from a set point to the cut-off, °C. */
    double halfwayCelsius(double setPointCelsius) {
        return (setPointCelsius + cutOff.celsius()) / 2;
    }

    /**
     * The cut-off where one air probe is left, °C: half as far above the set point, but not nearer
     * than any cut-off may be.
     */
    double loweredCutOffCelsius(double setPointCelsius) {
        return Math.min(
                cutOff.celsius(),
                Math.max(
                        setPointCelsius + CUT_OFF_DISTANCE_KELVIN,
                        halfwayCelsius(setPointCelsius)));
    }

    /** The limits while one air probe is left, and the set point moves between two values. */
    Limits loweredBetween(Temperature lowest, Temperature highest) {
        Limits usual = between(lowest, highest);
        Temperature lowered = new Temperature(loweredCutOffCelsius(highest.celsius()));
        return new Limits(
                usual.tooCold(), lowerOf(usual.tooWarm(), lowered), lowered, usual.ceiling());
    }

    /** The limits while the set point moves between two values, or stands where both are. */
    Limits between(Temperature lowest, Temperature highest) {
        double configuredCelsius = configuredSetPoint.celsius();
        double coldShift = lowest.celsius() - configuredCelsius;
        double warmShift = highest.celsius() - configuredCelsius;
        return new Limits(
                new Temperature(configured.tooCold().celsius() + coldShift),
                lowerOf(new Temperature(configured.tooWarm().celsius() + warmShift), cutOff),
                cutOff,
                configured.ceiling());
    }

    /** Why {@code setPoint} is not allowed, in plain words; empty when it is. */
    Optional<String> refusal(Temperature setPoint) {
        double highest = cutOff.celsius() - CUT_OFF_DISTANCE_KELVIN;
        if (setPoint.celsius() >= LOWEST_SET_POINT_CELSIUS && setPoint.celsius() <= highest) {
            return Optional.empty();
        }
        return Optional.of(
                "the set point must be "
                        + Texts.celsius(LOWEST_SET_POINT_CELSIUS)
                        + " to "
                        + Texts.celsius(highest)
                        + " (1 K below the cut-off) but was "
                        + Texts.celsius(setPoint.celsius()));
    }

    private static Temperature lowerOf(Temperature one, Temperature other) {
        return one.isAbove(other) ? other : one;
    }
}
