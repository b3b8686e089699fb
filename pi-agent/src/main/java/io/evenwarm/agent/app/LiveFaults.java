package io.evenwarm.agent.app;

import io.evenwarm.agent.plant.PlantFault;
import io.evenwarm.agent.plant.SimulatedCabinet;
import io.evenwarm.agent.rehearsal.Mishap;
import io.evenwarm.agent.rehearsal.Scenario;
import java.util.List;
import java.util.OptionalLong;

/**
 * A simulated cabinet that runs live, with what is to go wrong with it, each at its time after the
 * first step. Used by the control thread.
 */
final class LiveFaults {

    private static final double NANOS_PER_SECOND = 1e9;

    private final SimulatedCabinet cabinet;
    private final List<Scenario.TimedFault> faults;
    private OptionalLong beganNanos = OptionalLong.empty();
    private List<PlantFault> there = List.of();

    /**
     * @param faults of the cabinet only
     */
    LiveFaults(SimulatedCabinet cabinet, List<Scenario.TimedFault> faults) {
        this.cabinet = cabinet;
        this.faults = List.copyOf(faults);
    }

    /** Brings the cabinet up to a moment. */
    void step(long nowNanos) {
        if (!faults.isEmpty()) {
            if (beganNanos.isEmpty()) {
                beganNanos = OptionalLong.of(nowNanos);
            }
            bring((nowNanos - beganNanos.getAsLong()) / NANOS_PER_SECOND);
        }
        cabinet.step(nowNanos);
    }

    private void bring(double seconds) {
        List<PlantFault> now =
                faults.stream()
                        .filter(
                                fault ->
                                        seconds >= fault.atSeconds()
                                                && seconds < fault.untilSeconds())
                        .map(fault -> ((Mishap.InCabinet) fault.what()).fault())
                        .toList();
        if (!now.equals(there)) {
            there.forEach(cabinet::clear);
            // Of two of one kind at once the later one counts, and the other when that is over.
            now.forEach(cabinet::inject);
            there = now;
        }
    }
}
