package io.evenwarm.agent.guard;

import io.evenwarm.message.Finding;
import io.evenwarm.message.GuardState;
import java.util.List;

/**
 * What guard says in one tick.
 *
 * @param state in one word
 * @param grant the leave to heat
 * @param findings what holds now; the same list as long as nothing in it changed
 */
public record GuardVerdict(GuardState state, HeatGrant grant, List<Finding> findings) {

    public GuardVerdict {
        findings = List.copyOf(findings);
    }
}
