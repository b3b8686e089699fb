package io.evenwarm.monitor.alarm;

import io.evenwarm.message.FindingCode;
import java.time.Duration;
import java.util.OptionalDouble;

/** The warmest air is above a limit. */
record TooWarm(Level level) implements Judgement {

    @Override
    public FindingCode code() {
        return level == Level.LOOK ? FindingCode.TOO_WARM : AlarmCodes.FAR_TOO_WARM;
    }

    @Override
    public Presence look(Observation seen, CabinetLimits limits, boolean isRaised) {
        return Judgement.above(
                seen.warmestCelsius(),
                limitCelsius(seen, limits),
                limits.air().deadBandKelvin(),
                isRaised);
    }

    private double limitCelsius(Observation seen, CabinetLimits limits) {
        boolean isLook = level == Level.LOOK;
        OptionalDouble own =
                isLook ? limits.air().lookAboveKelvin() : limits.air().actAboveKelvin();
        if (own.isPresent()) {
            return seen.setPointCelsius() + own.getAsDouble();
        }
        return isLook
                ? seen.snapshot().limits().tooWarm().celsius()
                : seen.snapshot().limits().cutOff().celsius();
    }

    @Override
    public Duration onDelay(CabinetLimits limits) {
        return level == Level.LOOK ? limits.air().lookDelay() : limits.air().actWarmDelay();
    }

    @Override
    public Duration offDelay(CabinetLimits limits) {
        return limits.air().offDelay();
    }

    @Override
    public AlarmWords words(Observation seen, CabinetLimits limits) {
        return new AlarmWords(
                "warmest air "
                        + Texts.celsius(seen.warmestCelsius())
                        + ", above the limit of "
                        + Texts.celsius(limitCelsius(seen, limits))
                        + " at a set point of "
                        + Texts.celsius(seen.setPointCelsius()),
                Texts.agentsAction(seen.snapshot()),
                level == Level.LOOK
                        ? "Look: is the heater off, does the fan run, is the room too warm?"
                        : "Pull the heater's plug, open the door a little, and stay until it cools.");
    }
}
