package io.evenwarm.monitor.alarm;

import io.evenwarm.message.FindingCode;
import java.time.Duration;

/**
 * Top and bottom are too far apart. Judged only near the set point: full heat parts the layers of
 * every cabinet while it warms up.
 */
record Uneven() implements Judgement {

    static final double NEAR_SET_POINT_KELVIN = 1;

    @Override
    public FindingCode code() {
        return AlarmCodes.UNEVEN;
    }

    @Override
    public Presence look(Observation seen, CabinetLimits limits, boolean isRaised) {
        boolean isNear =
                seen.snapshot().processValue().isPresent()
                        && Math.abs(
                                        seen.snapshot().processValue().get().celsius()
                                                - seen.setPointCelsius())
                                <= NEAR_SET_POINT_KELVIN;
        return isNear
                ? Judgement.above(
                        Math.abs(seen.topCelsius() - seen.bottomCelsius()),
                        limits.spread().unevenKelvin(),
                        limits.spread().deadBandKelvin(),
                        isRaised)
                : Presence.UNKNOWN;
    }

    @Override
    public Duration onDelay(CabinetLimits limits) {
        return limits.spread().unevenDelay();
    }

    @Override
    public Duration offDelay(CabinetLimits limits) {
        return limits.spread().offDelay();
    }

    @Override
    public AlarmWords words(Observation seen, CabinetLimits limits) {
        return new AlarmWords(
                "top "
                        + Texts.celsius(seen.topCelsius())
                        + ", bottom "
                        + Texts.celsius(seen.bottomCelsius())
                        + ", more than "
                        + Texts.kelvin(limits.spread().unevenKelvin())
                        + " apart",
                Texts.agentsAction(seen.snapshot()),
                "Listen whether the fan runs; clear its grille and the way of the air.");
    }
}
