package io.evenwarm.monitor.alarm;

import io.evenwarm.message.FindingCode;
import java.time.Duration;

/**
 * The air's humidity is outside its limits.
 *
 * @param isDamp whether this looks at the upper limit
 */
record HumidityOut(boolean isDamp) implements Judgement {

    @Override
    public FindingCode code() {
        return isDamp ? AlarmCodes.TOO_DAMP : AlarmCodes.TOO_DRY;
    }

    @Override
    public Presence look(Observation seen, CabinetLimits limits, boolean isRaised) {
        double deadBand = limits.humidity().deadBandPercent();
        return isDamp
                ? Judgement.above(
                        seen.humidityPercent(), limits.humidity().dampPercent(), deadBand, isRaised)
                : Judgement.below(
                        seen.humidityPercent(), limits.humidity().dryPercent(), deadBand, isRaised);
    }

    @Override
    public Duration onDelay(CabinetLimits limits) {
        return limits.humidity().onDelay();
    }

    @Override
    public Duration offDelay(CabinetLimits limits) {
        return limits.humidity().offDelay();
    }

    @Override
    public AlarmWords words(Observation seen, CabinetLimits limits) {
        return new AlarmWords(
                "humidity "
                        + Texts.percent(seen.humidityPercent())
                        + (isDamp ? ", above " : ", below ")
                        + Texts.percent(
                                isDamp
                                        ? limits.humidity().dampPercent()
                                        : limits.humidity().dryPercent()),
                Texts.agentsAction(seen.snapshot()),
                isDamp
                        ? "Look for water on walls and lids; open the vent."
                        : "Look at the humidifier and its water; weigh a tub.");
    }
}
