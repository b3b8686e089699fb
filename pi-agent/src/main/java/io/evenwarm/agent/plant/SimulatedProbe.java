package io.evenwarm.agent.plant;

import io.evenwarm.agent.plan.ProbePlan;
import io.evenwarm.agent.port.Probe;
import io.evenwarm.agent.port.Sample;
import io.evenwarm.message.ProbePlace;
import io.evenwarm.message.Reading;
import java.util.List;
import java.util.concurrent.atomic.AtomicReference;

/**
 * A probe of a simulated cabinet: what its element feels, and what it says of it.
 *
 * <p>{@link #newest()} may be called by any thread; all else by the one that steps the plant.
 */
final class SimulatedProbe implements Probe {

    /** A DS18B20's last bit (datasheet, Table 1: 0191h is 25.0625 °C). */
    private static final double DS18B20_PER_KELVIN = 16;

    private static final double OTHER_PER_KELVIN = 100;

    /** What a DS18B20 holds before its first conversion (datasheet, Table 1, note). */
    private static final double POWER_ON_CELSIUS = 85;

    private static final double NANOS_PER_HOUR = 3.6e12;

    private final ProbePlan plan;
    private final double noiseKelvin;
    private final SeededNoise noise;
    private final AtomicReference<Sample> newest = new AtomicReference<>(new Sample.NotYet(0));

    private double feltBefore;
    private double felt;
    private double saidLast;

    private boolean frozen;
    private boolean lost;
    private boolean fellOut;
    private boolean hasReset;
    private double addedNoiseKelvin;
    private ProbePlace.Kind place;
    private double driftKelvinPerHour;
    private long driftsSinceNanos;

    SimulatedProbe(ProbePlan plan, CabinetBuild build, SeededNoise noise) {
        this.plan = plan;
        this.noiseKelvin = build.noiseKelvin();
        this.noise = noise;
        this.felt = build.startCelsius();
        this.feltBefore = felt;
        this.saidLast = felt;
        this.place = plan.place().kind();
    }

    @Override
    public Sample newest() {
        return newest.getAcquire();
    }

    ProbePlan plan() {
        return plan;
    }

    /** Where it hangs now; what the plan says, unless it was swapped with another. */
    ProbePlace.Kind place() {
        return place;
    }

    void hangAt(ProbePlace.Kind other) {
        place = other;
    }

    boolean hasFallenOut() {
        return fellOut;
    }

    /** Takes up what the faults in force say of this probe. */
    void take(List<PlantFault> faults, long nowNanos) {
        boolean wasLost = lost;
        double driftedBefore = driftKelvinPerHour;
        frozen = false;
        lost = false;
        fellOut = false;
        driftKelvinPerHour = 0;
        addedNoiseKelvin = 0;
        for (PlantFault fault : faults) {
            if (fault instanceof PlantFault.ProbeFault of && of.probe().equals(plan.name())) {
                takeOne(of);
            }
        }
        if (driftKelvinPerHour != driftedBefore) {
            driftsSinceNanos = nowNanos;
        }
        // Whatever brought it back also powered it up.
        hasReset |= wasLost && !lost;
    }

    private void takeOne(PlantFault.ProbeFault fault) {
        if (fault instanceof PlantFault.ProbeFrozen) {
            frozen = true;
        } else if (fault instanceof PlantFault.ProbeDropout) {
            lost = true;
        } else if (fault instanceof PlantFault.ProbeFellOut) {
            fellOut = true;
        } else if (fault instanceof PlantFault.ProbeNoise more) {
            addedNoiseKelvin = more.kelvin();
        } else if (fault instanceof PlantFault.ProbeDrift drift) {
            driftKelvinPerHour = drift.kelvinPerHour();
        } else {
            throw new AssertionError("no handling of " + fault);
        }
    }

    /** The element follows what is around it: first order, by the trapezium rule. */
    void feel(double aroundBefore, double aroundAfter, double lagSeconds, double stepSeconds) {
        double half = 0.5 * stepSeconds;
        feltBefore = felt;
        felt =
                ((lagSeconds - half) * felt + half * (aroundBefore + aroundAfter))
                        / (lagSeconds + half);
    }

    /** A fresh chip is read before it has converted anything. */
    void powerOn(long atNanos) {
        newest.setRelease(
                plan.sensor() == ProbePlan.Sensor.DS18B20
                        ? celsius(POWER_ON_CELSIUS, atNanos)
                        : new Sample.NotYet(atNanos));
    }

    /**
     * A conversion has ended.
     *
     * @param intoStep where in the last step it ended, 0 to 1
     */
    void convert(long atNanos, double intoStep) {
        if (lost) {
            fail(Reading.Doubt.NOT_THERE, "the simulated sensor does not answer", atNanos);
        } else if (hasReset && plan.sensor() == ProbePlan.Sensor.DS18B20) {
            hasReset = false;
            newest.setRelease(celsius(POWER_ON_CELSIUS, atNanos));
        } else {
            newest.setRelease(celsius(frozen ? saidLast : rounded(atNanos, intoStep), atNanos));
        }
    }

    private double rounded(long atNanos, double intoStep) {
        double value = feltBefore + intoStep * (felt - feltBefore) + noiseKelvin * noise.normal();
        if (addedNoiseKelvin > 0) {
            value += addedNoiseKelvin * noise.normal();
        }
        if (driftKelvinPerHour != 0) {
            value += driftKelvinPerHour * ((atNanos - driftsSinceNanos) / NANOS_PER_HOUR);
        }
        double perKelvin =
                plan.sensor() == ProbePlan.Sensor.DS18B20 ? DS18B20_PER_KELVIN : OTHER_PER_KELVIN;
        saidLast = Math.rint(value * perKelvin) / perKelvin;
        return saidLast;
    }

    /** A hygrometer has measured. */
    void humidity(double percent, long atNanos) {
        if (lost) {
            fail(Reading.Doubt.NOT_THERE, "the simulated sensor does not answer", atNanos);
        } else {
            if (!frozen) {
                saidLast = Math.rint(percent * 10) / 10;
            }
            newest.setRelease(
                    new Sample.Measured(saidLast, Sample.Unit.PERCENT_RELATIVE_HUMIDITY, atNanos));
        }
    }

    void fail(Reading.Doubt why, String detail, long atNanos) {
        newest.setRelease(new Sample.Failed(why, detail, atNanos));
    }

    private static Sample celsius(double value, long atNanos) {
        return new Sample.Measured(value, Sample.Unit.CELSIUS, atNanos);
    }
}
