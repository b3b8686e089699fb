package io.evenwarm.monitor.alarm;

import io.evenwarm.message.FindingCode;
import java.time.Duration;
import java.util.OptionalDouble;

/**
 * The coldest air is below a limit, and the cabinet does not come up by itself. One that warms up
 * after a start, an opening or a new set point needs hours and nobody's help.
 */
record TooCold(Level level) implements Judgement {

    @Override
    public FindingCode code() {
        return level == Level.LOOK ? FindingCode.TOO_COLD : AlarmCodes.FAR_TOO_COLD;
    }

    @Override
    public Presence look(Observation seen, CabinetLimits limits, boolean isRaised) {
        if (!isRaised && seen.isRising() && seen.seesAir()) {
            return Presence.ABSENT;
        }
        return Judgement.below(
                seen.coldestCelsius(),
                limitCelsius(seen, limits),
                limits.air().deadBandKelvin(),
                isRaised);
    }

    private double limitCelsius(Observation seen, CabinetLimits limits) {
        OptionalDouble look = limits.air().lookBelowKelvin();
        double lookCelsius =
                look.isPresent()
                        ? seen.setPointCelsius() - look.getAsDouble()
                        : seen.snapshot().limits().tooCold().celsius();
        if (level == Level.LOOK) {
            return lookCelsius;
        }
        OptionalDouble act = limits.air().actBelowKelvin();
        return act.isPresent()
                ? seen.setPointCelsius() - act.getAsDouble()
                : lookCelsius - CabinetLimits.Air.ACT_BELOW_LOOK_KELVIN;
    }

    @Override
    public Duration onDelay(CabinetLimits limits) {
        return level == Level.LOOK ? limits.air().lookDelay() : limits.air().actColdDelay();
    }

    @Override
    public Duration offDelay(CabinetLimits limits) {
        return limits.air().offDelay();
    }

    @Override
    public AlarmWords words(Observation seen, CabinetLimits limits) {
        return new AlarmWords(
                "coldest air "
                        + Texts.celsius(seen.coldestCelsius())
                        + ", below the limit of "
                        + Texts.celsius(limitCelsius(seen, limits))
                        + " at a set point of "
                        + Texts.celsius(seen.setPointCelsius())
                        + ", and not rising",
                Texts.agentsAction(seen.snapshot()),
                level == Level.LOOK
                        ? "Look at door, fuse, plug, thermal cut-out, fan."
                        : "Get heat into the cabinet, or move the tubs to one that holds.");
    }
}
