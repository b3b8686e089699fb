package io.evenwarm.agent.guard;

import io.evenwarm.agent.guard.Persistence.Presence;
import io.evenwarm.message.FindingCode;
import java.util.List;
import java.util.Optional;

/** At least one line can't be driven. */
final class OutputFailing extends Watch {

    private static final double OFF_DELAY_SECONDS = 30;

    private List<LineFault> lastFaults = List.of();

    OutputFailing() {
        super(FindingCode.OUTPUT_FAILING, Optional.empty(), 0, OFF_DELAY_SECONDS);
    }

    @Override
    Presence look(Circumstances now, boolean isRaised) {
        List<LineFault> faults = now.facts().lineFaults();
        if (faults.isEmpty()) {
            return Presence.ABSENT;
        }
        lastFaults = faults;
        return Presence.PRESENT;
    }

    @Override
    Words words(Circumstances now) {
        StringBuilder evidence = new StringBuilder();
        boolean isHeatLine = false;
        for (LineFault fault : lastFaults) {
            evidence.append(evidence.isEmpty() ? "" : "; ")
                    .append(fault.line().words())
                    .append(": ")
                    .append(fault.found());
            isHeatLine |= fault.line().carriesHeat();
        }
        if (!isHeatLine) {
            return new Words(
                    evidence.toString(),
                    "heats as before; tries again each second",
                    "Check the line's name in the configuration and its wiring.");
        }
        return new Words(
                evidence.toString(),
                "heater off and cut-off relay open, as far as they can be driven; tries again each"
                        + " second",
                "Go to the cabinet: the agent can't switch this line. Pull the heater's plug if it"
                        + " heats, then check the line's name in the configuration and its wiring.");
    }
}
