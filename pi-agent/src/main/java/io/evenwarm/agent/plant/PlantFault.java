package io.evenwarm.agent.plant;

import io.evenwarm.message.ProbeName;

/** Something wrong with a simulated cabinet, or done to it. In force from injection to clearing. */
public sealed interface PlantFault {

    /** A fault of one probe. */
    sealed interface ProbeFault extends PlantFault {
        ProbeName probe();
    }

    /** Whether one of the two takes the other's place: the same kind, of the same probe. */
    default boolean isSameKindAs(PlantFault other) {
        if (!getClass().equals(other.getClass())) {
            return false;
        }
        return !(this instanceof ProbeFault mine)
                || !(other instanceof ProbeFault theirs)
                || mine.probe().equals(theirs.probe());
    }

    /** The heater relay's contacts have welded: closed whatever its coil is told. */
    record HeaterRelayWelded() implements PlantFault {}

    /** The heater's circuit is broken: no heat. */
    record HeaterOpen() implements PlantFault {}

    /**
     * The heater makes less heat.
     *
     * @param powerShare of its rated power, 0 to 1
     */
    record HeaterWeak(double powerShare) implements PlantFault {
        public HeaterWeak {
            requireShare("power", powerShare);
        }
    }

    /** The circulation fan stands still. */
    record FanStopped() implements PlantFault {}

    /**
     * The circulation fan moves less air.
     *
     * @param flowShare of its full flow, 0 to 1
     */
    record FanSlow(double flowShare) implements PlantFault {
        public FanSlow {
            requireShare("flow", flowShare);
        }
    }

    /** The door stands open. */
    record DoorOpen() implements PlantFault {}

    /** No mains: neither heater nor fan runs. The buses go on: the agent has a battery. */
    record MainsCut() implements PlantFault {}

    /**
     * The room is warmer or colder than it would be.
     *
     * @param kelvin −40 to 40
     */
    record AmbientStep(double kelvin) implements PlantFault {
        public AmbientStep {
            if (!(kelvin >= -40 && kelvin <= 40)) {
                throw new IllegalArgumentException(
                        "ambient step must be -40 to 40 K but was " + kelvin);
            }
        }
    }

    /** The cut-off relay's contacts have welded: closed whatever its coil is told. */
    record CutOffRelayStuck() implements PlantFault {}

    /** The probe goes on giving the value that it last gave. */
    record ProbeFrozen(ProbeName probe) implements ProbeFault {}

    /** The probe does not answer. */
    record ProbeDropout(ProbeName probe) implements ProbeFault {}

    /**
     * The probe's error grows from the injection on.
     *
     * @param kelvinPerHour −100 to 100
     */
    record ProbeDrift(ProbeName probe, double kelvinPerHour) implements ProbeFault {
        public ProbeDrift {
            if (!(kelvinPerHour >= -100 && kelvinPerHour <= 100)) {
                throw new IllegalArgumentException(
                        "drift must be -100 to 100 K/h but was " + kelvinPerHour);
            }
        }
    }

    /** The probe hangs in the room. */
    record ProbeFellOut(ProbeName probe) implements ProbeFault {}

    /**
     * The probe scatters more.
     *
     * @param kelvin standard deviation of what is added to its noise, 0 to 20
     */
    record ProbeNoise(ProbeName probe, double kelvin) implements ProbeFault {
        public ProbeNoise {
            if (!(kelvin >= 0 && kelvin <= 20)) {
                throw new IllegalArgumentException("noise must be 0 to 20 K but was " + kelvin);
            }
        }
    }

    /** Two probes hang in each other's place. One such fault at a time. */
    record ProbesSwapped(ProbeName probe, ProbeName with) implements PlantFault {
        public ProbesSwapped {
            if (probe.equals(with)) {
                throw new IllegalArgumentException(
                        "two different probes can be swapped but both were " + probe);
            }
        }
    }

    /** The bus gives nothing at all: what was read last grows old. */
    record BusHang() implements PlantFault {}

    /**
     * Some readings fail their checksum.
     *
     * @param share of the readings, 0 to 1
     */
    record BusErrors(double share) implements PlantFault {
        public BusErrors {
            requireShare("errors", share);
        }
    }

    private static void requireShare(String what, double share) {
        if (!(share >= 0 && share <= 1)) {
            throw new IllegalArgumentException(what + " must be 0 to 1 but was " + share);
        }
    }
}
