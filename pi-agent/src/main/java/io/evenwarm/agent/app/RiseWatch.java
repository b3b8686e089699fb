package io.evenwarm.agent.app;

import io.evenwarm.agent.port.Sample;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;

/** Tells which thermometer somebody warms: the one that rises while the others don't. */
final class RiseWatch {

    private final double riseKelvin;
    private final Map<CabinetSettings.ProbeWiring, Double> lowest = new HashMap<>();

    /**
     * @param riseKelvin how far it must rise above its lowest, and twice as far as any other
     */
    RiseWatch(double riseKelvin) {
        this.riseKelvin = riseKelvin;
    }

    /** Looks at the newest samples; the one that rose, once there is no doubt. */
    Optional<FoundProbes.Entry> look(List<FoundProbes.Entry> entries) {
        Optional<FoundProbes.Entry> most = Optional.empty();
        double mostRise = 0;
        double secondRise = 0;
        for (FoundProbes.Entry entry : entries) {
            if (entry.probe().newest() instanceof Sample.Measured measured
                    && measured.unit() == Sample.Unit.CELSIUS) {
                double rise =
                        measured.value()
                                - lowest.merge(entry.wiring(), measured.value(), Math::min);
                if (rise > mostRise) {
                    secondRise = mostRise;
                    mostRise = rise;
                    most = Optional.of(entry);
                } else {
                    secondRise = Math.max(secondRise, rise);
                }
            }
        }
        return mostRise >= riseKelvin && mostRise >= 2 * secondRise ? most : Optional.empty();
    }

    /** How many thermometers have been seen. */
    int thermometers() {
        return lowest.size();
    }
}
