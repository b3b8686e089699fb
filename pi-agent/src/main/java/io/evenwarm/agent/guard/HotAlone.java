package io.evenwarm.agent.guard;

import io.evenwarm.agent.guard.Persistence.Presence;
import io.evenwarm.agent.plan.CabinetPlan;
import io.evenwarm.agent.plan.ProbePlan;
import io.evenwarm.message.FindingCode;
import java.util.Optional;

/** One probe stands at the cut-off and no other confirms it: on trial, or set aside for it. */
final class HotAlone extends Watch {

    private static final double OFF_DELAY_SECONDS = 600;

    private final CabinetPlan plan;
    private final ProbePlan probe;
    private final int index;
    private final LoneHotProbe lone;

    HotAlone(CabinetPlan plan, int index, LoneHotProbe lone) {
        super(
                FindingCode.PROBES_DISAGREE,
                Optional.of(plan.probes().get(index).name()),
                0,
                OFF_DELAY_SECONDS);
        this.plan = plan;
        this.probe = plan.probes().get(index);
        this.index = index;
        this.lone = lone;
    }

    @Override
    Presence look(Circumstances now, boolean isRaised) {
        return Presence.of(
                lone.onTrial() == index || now.trust().isSetAside(index, LoneHotProbe.CAUSE));
    }

    @Override
    Words words(Circumstances now) {
        String evidence =
                probe.name()
                        + (now.state().isGood(index)
                                ? " " + Texts.celsius(now.state().celsius(index))
                                : "")
                        + ", and no other probe confirms it: "
                        + ProbeTexts.airProbes(plan, now.state());
        if (now.trust().isSetAside(index, LoneHotProbe.CAUSE)) {
            return new Words(
                    evidence + "; it did not cool with the heater off as hot air would",
                    "leaves this probe aside; steers and guards by the others",
                    "Hold a thermometer of your own beside it, and replace it if it is wrong. If it"
                            + " is right, pull the heater's plug.");
        }
        return new Words(
                evidence,
                "holds heat back for 15 min or more, to see whether it cools as hot air would",
                "Go and look: does the fan turn, does this probe touch the heater? Hold a"
                        + " thermometer of your own beside it.");
    }
}
