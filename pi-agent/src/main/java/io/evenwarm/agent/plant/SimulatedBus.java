package io.evenwarm.agent.plant;

import io.evenwarm.agent.plan.ProbePlan;
import io.evenwarm.message.Reading;
import java.util.List;

/**
 * When a simulated cabinet's probes are read. DS18B20 share one 1-Wire bus: a 12-bit conversion
 * takes 0.75 s (datasheet, tCONV at 12 bits, max.) and one follows the other. Other thermometers
 * and hygrometers are read once a step.
 */
final class SimulatedBus {

    static final long CONVERSION_NANOS = 750_000_000L;

    private final SimulatedProbe[] oneWire;
    private final SimulatedProbe[] others;
    private final SeededNoise noise;
    private int converting;
    private long endsAtNanos;
    private boolean hung;
    private double errorShare;

    SimulatedBus(List<SimulatedProbe> probes, SeededNoise noise) {
        this.oneWire =
                probes.stream().filter(SimulatedBus::isOneWire).toArray(SimulatedProbe[]::new);
        this.others =
                probes.stream().filter(probe -> !isOneWire(probe)).toArray(SimulatedProbe[]::new);
        this.noise = noise;
    }

    private static boolean isOneWire(SimulatedProbe probe) {
        return probe.plan().sensor() == ProbePlan.Sensor.DS18B20;
    }

    void powerOn(long nowNanos) {
        for (SimulatedProbe probe : oneWire) {
            probe.powerOn(nowNanos);
        }
        for (SimulatedProbe probe : others) {
            probe.powerOn(nowNanos);
        }
        endsAtNanos = nowNanos + CONVERSION_NANOS;
    }

    void take(List<PlantFault> faults, long nowNanos) {
        boolean wasHung = hung;
        hung = false;
        errorShare = 0;
        for (PlantFault fault : faults) {
            if (fault instanceof PlantFault.BusHang) {
                hung = true;
            } else if (fault instanceof PlantFault.BusErrors errors) {
                errorShare = errors.share();
            }
        }
        if (wasHung && !hung) {
            endsAtNanos = nowNanos + CONVERSION_NANOS;
        }
    }

    /**
     * The bus's share of a step that the physics have just made.
     *
     * @param humidityPercent what a hygrometer in the cabinet would show
     */
    void step(long fromNanos, long toNanos, double humidityPercent) {
        if (hung) {
            return;
        }
        double stepNanos = toNanos - fromNanos;
        while (oneWire.length > 0 && endsAtNanos - toNanos <= 0) {
            read(oneWire[converting], endsAtNanos, (endsAtNanos - fromNanos) / stepNanos);
            converting = converting + 1 == oneWire.length ? 0 : converting + 1;
            endsAtNanos += CONVERSION_NANOS;
        }
        for (SimulatedProbe probe : others) {
            if (probe.plan().sensor() == ProbePlan.Sensor.HYGROMETER) {
                probe.humidity(humidityPercent, toNanos);
            } else {
                read(probe, toNanos, 1);
            }
        }
    }

    private void read(SimulatedProbe probe, long atNanos, double intoStep) {
        if (errorShare > 0 && noise.uniform() < errorShare) {
            probe.fail(Reading.Doubt.CHECKSUM, "simulated bus error", atNanos);
        } else {
            probe.convert(atNanos, intoStep);
        }
    }
}
