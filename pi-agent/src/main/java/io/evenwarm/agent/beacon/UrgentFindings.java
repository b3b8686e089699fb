package io.evenwarm.agent.beacon;

import io.evenwarm.message.CabinetSnapshot;
import io.evenwarm.message.Finding;
import io.evenwarm.message.FindingCode;
import java.util.List;
import java.util.Optional;
import java.util.Set;

/**
 * Findings that can't wait until the keeper looks by themselves: eggs are at stake within hours.
 */
public final class UrgentFindings {

    private static final Set<FindingCode> CODES =
            Set.of(
                    FindingCode.TOO_WARM,
                    FindingCode.TOO_COLD,
                    FindingCode.CUT_OFF_TRIPPED,
                    FindingCode.BLIND,
                    FindingCode.HEATER_STUCK_ON,
                    FindingCode.HEATER_DEAD,
                    FindingCode.FAN_STOPPED,
                    FindingCode.OUTPUT_FAILING,
                    FindingCode.AGENT_FAULT,
                    FindingCode.DOOR_OPEN);

    private UrgentFindings() {}

    /**
     * The first that has held for so long, in words.
     *
     * @param snapshots the newest of each cabinet
     * @param leastNanos how long it must have held, by the agent's monotonic clock
     */
    public static Optional<String> first(List<CabinetSnapshot> snapshots, long leastNanos) {
        for (CabinetSnapshot snapshot : snapshots) {
            for (Finding finding : snapshot.findings()) {
                long heldNanos = snapshot.moment().monotonicNanos() - finding.raisedAtNanos();
                if (CODES.contains(finding.code()) && heldNanos >= leastNanos) {
                    return Optional.of(
                            "cabinet " + snapshot.cabinet() + ": " + finding.code().value());
                }
            }
        }
        return Optional.empty();
    }
}
