package io.evenwarm.agent.guard;

import io.evenwarm.agent.guard.Persistence.Presence;
import io.evenwarm.agent.plan.CabinetPlan;
import io.evenwarm.message.FindingCode;
import java.util.Optional;

/** Top and bottom part more than they did at the same heat: the fan moves less air, or none. */
final class FanFromLayers extends Watch {

    private static final double OFF_DELAY_SECONDS = 60;

    private final CabinetPlan plan;
    private final boolean isAboutStopping;

    private FanFromLayers(CabinetPlan plan, FindingCode code, boolean isAboutStopping) {
        super(code, Optional.empty(), 0, OFF_DELAY_SECONDS);
        this.plan = plan;
        this.isAboutStopping = isAboutStopping;
    }

    static FanFromLayers stopped(CabinetPlan plan) {
        return new FanFromLayers(plan, FindingCode.FAN_STOPPED, true);
    }

    static FanFromLayers weak(CabinetPlan plan) {
        return new FanFromLayers(plan, FindingCode.FAN_WEAK, false);
    }

    @Override
    Presence look(Circumstances now, boolean isRaised) {
        // One that is seen to turn does not stand still, whatever the air says: it moves too
        // little.
        boolean isStill =
                now.health().isFanStopped()
                        && !(now.facts().signs().fanTurnsPerMinute().orElse(0) > 0);
        boolean isWeak = now.health().isFanWeak() || now.health().isFanStopped();
        return Presence.of(isAboutStopping ? isStill : isWeak && !isStill);
    }

    @Override
    Words words(Circumstances now) {
        return new Words(
                ProbeTexts.airProbes(plan, now.state())
                        + "; from the middle to the top "
                        + Texts.kelvin(now.health().layerExcessKelvin())
                        + " more than the usual "
                        + Texts.kelvin(now.health().usualLayerKelvin()),
                (plan.drivesFan() ? "keeps the fan switched on; " : "")
                        + "goes on heating, steered by the warmest probe, so that no shelf gets hot",
                isAboutStopping
                        ? "Go and listen: does the fan turn, is its grille clear, has it current?"
                                + " Free or replace it; the bottom of the cabinet goes cold"
                                + " meanwhile."
                        : "Clean the fan and its grille, and see that nothing new blocks the air;"
                                + " replace the fan soon.");
    }
}
