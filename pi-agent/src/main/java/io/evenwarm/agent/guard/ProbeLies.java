package io.evenwarm.agent.guard;

import io.evenwarm.agent.guard.Persistence.Presence;
import io.evenwarm.agent.guard.health.ProbeTrouble;
import io.evenwarm.agent.plan.ProbePlan;
import io.evenwarm.message.FindingCode;
import java.util.Optional;

/**
 * One probe gives readings that pass every check of their own, but can't be right beside its
 * neighbours and its past. While it stands against the others it is set aside: it neither steers
 * nor trips. Two that were swapped are not: their mean is the same.
 */
final class ProbeLies extends Watch {

    private static final double OFF_DELAY_SECONDS = 60;

    private final ProbePlan probe;
    private final int index;
    private final ProbeTrouble trouble;

    private ProbeLies(ProbePlan probe, int index, ProbeTrouble trouble, FindingCode code) {
        super(code, Optional.of(probe.name()), 0, OFF_DELAY_SECONDS);
        this.probe = probe;
        this.index = index;
        this.trouble = trouble;
    }

    /**
     * @param trouble other than {@link ProbeTrouble#NONE}
     */
    static ProbeLies of(ProbePlan probe, int index, ProbeTrouble trouble) {
        return new ProbeLies(probe, index, trouble, code(trouble));
    }

    private static FindingCode code(ProbeTrouble trouble) {
        return switch (trouble) {
            case FROZEN -> FindingCode.PROBE_FROZEN;
            case DRIFTING -> FindingCode.PROBE_DRIFTING;
            case FALLEN_OUT -> FindingCode.PROBE_FALLEN_OUT;
            case SWAPPED -> FindingCode.PROBES_SWAPPED;
            case NOISY -> FindingCode.PROBE_NOISY;
            case NONE -> throw new IllegalArgumentException("nothing is wrong");
        };
    }

    private boolean isSetAsideFor() {
        return trouble != ProbeTrouble.SWAPPED;
    }

    @Override
    Presence look(Circumstances now, boolean isRaised) {
        boolean isThere = now.health().trouble(index) == trouble;
        if (isSetAsideFor()) {
            if (isThere) {
                now.trust().setAside(index, code(trouble), now.state());
            } else {
                now.trust().restore(index, code(trouble));
            }
        }
        return Presence.of(isThere);
    }

    @Override
    Words words(Circumstances now) {
        return new Words(evidence(now), action(now), advice());
    }

    private String evidence(Circumstances now) {
        String reads =
                now.state().isGood(index)
                        ? "reads " + Texts.celsius(now.state().celsius(index)) + ", "
                        : "";
        String away = Texts.signedKelvin(now.health().deviationKelvin(index));
        return switch (trouble) {
            case FROZEN ->
                    reads
                            + "the same for "
                            + Math.round(now.health().sameSeconds(index) / 60)
                            + " min, while its neighbours moved";
            case DRIFTING -> reads + away + " from where its neighbours put it, and not at once";
            case FALLEN_OUT -> reads + away + " from its neighbours within minutes";
            case SWAPPED -> reads + "as another probe's place would";
            case NOISY ->
                    reads
                            + "jumps by "
                            + Texts.kelvin(now.health().stepKelvin(index))
                            + " from sample to sample";
            case NONE -> reads;
        };
    }

    private String action(Circumstances now) {
        if (!isSetAsideFor()) {
            return "goes on as before: the mean of the probes is the same";
        }
        return now.trust().isTrusted(index)
                ? "goes on by it, because no other good probe is left in the air"
                : "steers and guards by the other probes; this one neither steers nor trips";
    }

    private String advice() {
        return switch (trouble) {
            case FROZEN, DRIFTING ->
                    "Hold a thermometer of your own beside "
                            + probe.name()
                            + "; replace the probe if they differ.";
            case FALLEN_OUT ->
                    "Look where "
                            + probe.name()
                            + " hangs: it seems no longer to be in the cabinet's air.";
            case SWAPPED ->
                    "Was "
                            + probe.name()
                            + " changed over with another? Warm one in your hand and see which"
                            + " curve rises: evenwarm-agent probes";
            case NOISY, NONE ->
                    "Check the plug, the cable and its shield, and what runs beside it.";
        };
    }
}
