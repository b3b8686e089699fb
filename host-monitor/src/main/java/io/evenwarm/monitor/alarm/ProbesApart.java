package io.evenwarm.monitor.alarm;

import io.evenwarm.message.FindingCode;
import java.time.Duration;

/** Two probes of one place tell different temperatures, which no layers of air can explain. */
record ProbesApart() implements Judgement {

    @Override
    public FindingCode code() {
        return FindingCode.PROBES_DISAGREE;
    }

    @Override
    public Presence look(Observation seen, CabinetLimits limits, boolean isRaised) {
        return seen.seesAir()
                ? Judgement.above(
                        seen.apartKelvin(),
                        limits.spread().disagreeKelvin(),
                        limits.spread().deadBandKelvin(),
                        isRaised)
                : Presence.UNKNOWN;
    }

    @Override
    public Duration onDelay(CabinetLimits limits) {
        return limits.spread().disagreeDelay();
    }

    @Override
    public Duration offDelay(CabinetLimits limits) {
        return limits.spread().offDelay();
    }

    @Override
    public AlarmWords words(Observation seen, CabinetLimits limits) {
        return new AlarmWords(
                "two probes of one place are "
                        + Texts.kelvin(seen.apartKelvin())
                        + " apart, more than "
                        + Texts.kelvin(limits.spread().disagreeKelvin()),
                Texts.agentsAction(seen.snapshot()),
                "Hold a thermometer beside both.");
    }
}
