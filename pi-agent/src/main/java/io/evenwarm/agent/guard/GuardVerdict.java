package io.evenwarm.agent.guard;

import io.evenwarm.message.Finding;
import io.evenwarm.message.GuardState;
import java.util.List;

/**
 * What guard says in one tick.
 *
 * @param state in one word
 * @param grant the leave to heat
 * @param blindDuty the fixed duty to heat with because no air probe is good and the keeper allows
 *     it; 0 otherwise
 * @param giveBackSeconds of full heat that a test of the cut-off relay withheld, to be given back
 *     from this tick on; 0 otherwise
 * @param findings what holds now; the same list as long as nothing in it changed
 */
public record GuardVerdict(
        GuardState state,
        HeatGrant grant,
        double blindDuty,
        double giveBackSeconds,
        List<Finding> findings) {

    public GuardVerdict {
        findings = List.copyOf(findings);
    }

    /** A verdict on a cabinet that is not heated blindly. */
    GuardVerdict(GuardState state, HeatGrant grant, List<Finding> findings) {
        this(state, grant, 0, 0, findings);
    }
}
