package io.evenwarm.monitor.alarm;

import io.evenwarm.message.CabinetSnapshot;
import io.evenwarm.message.Finding;
import io.evenwarm.message.FindingCode;
import io.evenwarm.message.ProbeName;
import io.evenwarm.message.ProbePlace;
import io.evenwarm.message.ProbeReading;
import io.evenwarm.message.Reading;
import io.evenwarm.quantity.Quantity;
import io.evenwarm.quantity.RelativeHumidity;
import io.evenwarm.quantity.Temperature;
import java.util.Optional;
import java.util.Set;

/**
 * One snapshot, boiled down to what the judgements need. Only good readings count, and none of a
 * probe that its agent says lies. NaN stands for what no such reading tells: it passes no limit.
 *
 * @param coldestCelsius of the air
 * @param warmestCelsius of the air
 * @param topCelsius mean of the probes at the top
 * @param bottomCelsius mean of the probes at the bottom
 * @param apartKelvin the largest difference between two probes of one place in the air
 * @param humidityPercent mean of the hygrometers in the air
 * @param isRising whether the process value comes up
 */
record Observation(
        CabinetSnapshot snapshot,
        double coldestCelsius,
        double warmestCelsius,
        double topCelsius,
        double bottomCelsius,
        double apartKelvin,
        double humidityPercent,
        boolean isRising) {

    private static final Set<FindingCode> LIES =
            Set.of(
                    FindingCode.PROBE_LOST,
                    FindingCode.PROBE_FROZEN,
                    FindingCode.PROBE_DRIFTING,
                    FindingCode.PROBE_FALLEN_OUT,
                    FindingCode.PROBE_NOISY);

    static Observation of(CabinetSnapshot snapshot, boolean isRising) {
        Collected all = new Collected();
        Collected top = new Collected();
        Collected middle = new Collected();
        Collected bottom = new Collected();
        double humiditySum = 0;
        int humidities = 0;
        for (ProbeReading probe : snapshot.probes()) {
            if (!probe.place().kind().isAir()
                    || !(probe.reading() instanceof Reading.Good good)
                    || isDoubted(snapshot, probe.probe())) {
                continue;
            }
            Quantity value = good.value();
            if (value instanceof RelativeHumidity humidity) {
                humiditySum += humidity.percent();
                humidities++;
            } else if (value instanceof Temperature temperature) {
                all.add(temperature.celsius());
                ProbePlace.Kind kind = probe.place().kind();
                if (kind == ProbePlace.Kind.TOP) {
                    top.add(temperature.celsius());
                } else if (kind == ProbePlace.Kind.MIDDLE) {
                    middle.add(temperature.celsius());
                } else if (kind == ProbePlace.Kind.BOTTOM) {
                    bottom.add(temperature.celsius());
                }
            }
        }
        return new Observation(
                snapshot,
                all.least,
                all.most,
                top.mean(),
                bottom.mean(),
                Math.max(top.width(), Math.max(middle.width(), bottom.width())),
                humidities > 0 ? humiditySum / humidities : Double.NaN,
                isRising);
    }

    /** Whether its agent says that a probe lies. */
    static boolean isDoubted(CabinetSnapshot snapshot, ProbeName probe) {
        for (Finding finding : snapshot.findings()) {
            Optional<ProbeName> about = finding.probe();
            if (about.isPresent()
                    && about.get().equals(probe)
                    && (LIES.contains(finding.code())
                            || finding.code().equals(FindingCode.PROBES_DISAGREE))) {
                return true;
            }
        }
        return false;
    }

    /** Whether any good air probe tells a temperature. */
    boolean seesAir() {
        return !Double.isNaN(coldestCelsius);
    }

    double setPointCelsius() {
        return snapshot.setPoint().celsius();
    }

    /** Temperatures of some probes. */
    private static final class Collected {

        private double least = Double.NaN;
        private double most = Double.NaN;
        private double sum;
        private int count;

        void add(double celsius) {
            least = count == 0 ? celsius : Math.min(least, celsius);
            most = count == 0 ? celsius : Math.max(most, celsius);
            sum += celsius;
            count++;
        }

        double mean() {
            return count == 0 ? Double.NaN : sum / count;
        }

        double width() {
            return count < 2 ? 0 : most - least;
        }
    }
}
