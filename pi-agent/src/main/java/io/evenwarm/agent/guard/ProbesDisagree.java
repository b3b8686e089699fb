package io.evenwarm.agent.guard;

import io.evenwarm.agent.guard.Persistence.Presence;
import io.evenwarm.agent.plan.CabinetPlan;
import io.evenwarm.message.FindingCode;
import io.evenwarm.message.ProbePlace;
import java.util.Optional;

/**
 * Good air probes differ by more than the cabinet allows, for longer than it allows, and not in the
 * way that a stopped fan explains: that is {@link FanStopped}.
 *
 * <p>Heat drives the layers of the air apart: what is allowed grows with the share of time that the
 * heater is on, to {@value #FULL_HEAT_TIMES} times the configured difference at full power. At full
 * power from cold with the fan running, 300 simulated cabinets of 60 to 900 L with heaters of 1.5
 * to 5 times the holding power show up to 4.5 K, with the fan stopped 10 K at the median; stopped
 * at their set point and at a tenth of full power they show 2 K and more.
 */
final class ProbesDisagree extends Watch {

    static final double DEAD_BAND_KELVIN = 0.3;
    static final double OFF_DELAY_SECONDS = 60;

    static final double FULL_HEAT_TIMES = 3.2;

    private final CabinetPlan plan;

    ProbesDisagree(CabinetPlan plan) {
        super(
                FindingCode.PROBES_DISAGREE,
                Optional.empty(),
                plan.guard().disagreeSeconds(),
                OFF_DELAY_SECONDS);
        this.plan = plan;
    }

    @Override
    Presence look(Circumstances now, boolean isRaised) {
        if (now.state().isBlind()) {
            return Presence.UNKNOWN;
        }
        return Presence.of(
                now.state().spreadKelvin() > limitKelvin(plan, now, isRaised)
                        && !isWarmTopColdBottom(now));
    }

    /** How far air probes may differ now. */
    static double limitKelvin(CabinetPlan plan, Circumstances now, boolean isRaised) {
        double allowed =
                plan.guard().disagreeKelvin() * (1 + (FULL_HEAT_TIMES - 1) * now.heatShare());
        return allowed - (isRaised ? DEAD_BAND_KELVIN : 0);
    }

    private boolean isWarmTopColdBottom(Circumstances now) {
        return kind(now.state().warmestAir()) == ProbePlace.Kind.TOP
                && kind(now.state().coldestAir()) == ProbePlace.Kind.BOTTOM;
    }

    private ProbePlace.Kind kind(int probe) {
        return plan.probes().get(probe).place().kind();
    }

    @Override
    Words words(Circumstances now) {
        return new Words(
                ProbeTexts.airProbes(plan, now.state())
                        + "; allowed "
                        + Texts.kelvin(limitKelvin(plan, now, false)),
                "steers by the mean of the air probes, and by the warmest once that is more than"
                        + " 1 K above",
                "Hold a thermometer of your own beside both probes: one of them is wrong, has"
                        + " slipped, or sits in a draught.");
    }
}
