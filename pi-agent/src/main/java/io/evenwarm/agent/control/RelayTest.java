package io.evenwarm.agent.control;

import java.util.Optional;

/**
 * A relay-feedback test: the duty goes to and fro between two values as the air crosses the level
 * that it was held at. The air then swings at the period at which the loop would just swing on, and
 * the swing's height tells the gain (Åström and Hägglund, Automatica 20 (1984) 645).
 */
public final class RelayTest extends TuningTest {

    /** Half of the band: the air must have crossed the level by this much. */
    static final double HYSTERESIS_KELVIN = 0.05;

    /** The first swings still remember the start. */
    private static final int PERIODS_LEFT_OUT = 2;

    private static final int PERIODS_COUNTED = 3;
    static final double LONGEST_SECONDS = 3 * 3600;
    private static final double MOST = 0.4;
    private static final double LEAST = 0.04;

    private double level;
    private double baseDuty;
    private double relayDuty;
    private boolean isHigh = true;
    private double driveSeconds;
    private double filtered = Double.NaN;
    private int periods;
    private double periodSeconds;
    private double highest = Double.NEGATIVE_INFINITY;
    private double lowest = Double.POSITIVE_INFINITY;
    private double periodSum;
    private double swingSum;
    private Optional<TestFinding> finding = Optional.empty();

    public RelayTest(double setPointCelsius, double warmestAllowedCelsius) {
        super(setPointCelsius, warmestAllowedCelsius);
    }

    @Override
    void look(double celsius, double elapsedSeconds, boolean heaterWasOn) {
        // Only what the air does about its level counts.
    }

    @Override
    void begin(double celsius, double duty) {
        level = celsius;
        baseDuty = duty;
        relayDuty = Math.min(MOST, Math.min(duty, 1 - duty));
        if (relayDuty < LEAST) {
            fail(
                    "the heater is hardly needed, or needed all the time, so that it can't swing about"
                            + " what holds the cabinet: take a step test");
        }
    }

    @Override
    void drive(double celsius, boolean isTooWarm, double elapsedSeconds) {
        driveSeconds += elapsedSeconds;
        periodSeconds += elapsedSeconds;
        if (isTooWarm) {
            fail("a probe got too warm");
            return;
        }
        if (driveSeconds > LONGEST_SECONDS) {
            fail("the air did not swing within three hours");
            return;
        }
        // Noise must not look like a crossing.
        filtered =
                Double.isNaN(filtered)
                        ? celsius
                        : filtered + (celsius - filtered) * elapsedSeconds / (5 + elapsedSeconds);
        highest = Math.max(highest, filtered);
        lowest = Math.min(lowest, filtered);
        if (isHigh && filtered > level + HYSTERESIS_KELVIN) {
            isHigh = false;
        } else if (!isHigh && filtered < level - HYSTERESIS_KELVIN) {
            isHigh = true;
            endPeriod();
        }
    }

    private void endPeriod() {
        periods++;
        if (periods > PERIODS_LEFT_OUT) {
            periodSum += periodSeconds;
            swingSum += (highest - lowest) / 2;
        }
        periodSeconds = 0;
        highest = Double.NEGATIVE_INFINITY;
        lowest = Double.POSITIVE_INFINITY;
        if (periods < PERIODS_LEFT_OUT + PERIODS_COUNTED) {
            return;
        }
        double swing = swingSum / PERIODS_COUNTED;
        if (swing <= 1.05 * HYSTERESIS_KELVIN) {
            fail("the air's swing can't be told from noise");
            return;
        }
        finding =
                Optional.of(
                        new TestFinding(
                                baseDuty,
                                Optional.empty(),
                                Optional.of(
                                        UltimatePoint.fromRelay(
                                                relayDuty,
                                                swing,
                                                HYSTERESIS_KELVIN,
                                                periodSum / PERIODS_COUNTED))));
    }

    @Override
    double duty() {
        return isHigh ? baseDuty + relayDuty : baseDuty - relayDuty;
    }

    @Override
    public Optional<TestFinding> finding() {
        return finding;
    }

    @Override
    String name() {
        return "relay";
    }
}
