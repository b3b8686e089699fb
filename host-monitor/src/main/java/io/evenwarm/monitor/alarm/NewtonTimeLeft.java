package io.evenwarm.monitor.alarm;

import io.evenwarm.message.CabinetSnapshot;
import io.evenwarm.message.Finding;
import io.evenwarm.message.FindingCode;
import io.evenwarm.message.ProbePlace;
import io.evenwarm.message.ProbeReading;
import io.evenwarm.message.Reading;
import io.evenwarm.quantity.Quantity;
import io.evenwarm.quantity.Temperature;
import java.time.Duration;
import java.util.Optional;
import java.util.OptionalDouble;

/**
 * A conservative guess out of constants, until a model is fitted to the cabinet. The coldest eggs,
 * and for heat, which does harm sooner, the warmest air, go from where they are towards an end
 * temperature by Newton's law of cooling:
 *
 * <pre>
 *   T(t) = end + (T₀ − end) e^(−t/τ)      so      t = τ ln((T₀ − end) / (limit − end))
 * </pre>
 *
 * <p>(Lumped capacity: Incropera and DeWitt, Fundamentals of Heat and Mass Transfer, chapter 5.)
 * Where {@code end} does not lie beyond the limit, it is never crossed. Cold: all heat is gone, and
 * {@code end} is the room. Heat: if the heater may be stuck, {@code end} is a warm room and full
 * heat; if not, a warm room and what the fan gives.
 */
public final class NewtonTimeLeft implements TimeLeft {

    /**
     * The constants. Each is on the side that makes the time shorter; none has an outside source.
     *
     * @param coldLimitCelsius below it eggs are taken to die, °C
     * @param timeConstantSeconds τ: shorter than that of any cabinet with tubs in it
     * @param coldRoomCelsius the room where no probe measures it, °C
     * @param roomFallKelvin a room that is measured is taken to get colder by this
     * @param warmRoomCelsius the room, for heat, where no probe measures it, °C
     * @param roomRiseKelvin a room that is measured is taken to get warmer by this
     * @param fanKelvin what the fan alone warms a cabinet above its room
     * @param fullHeatKelvin what full heat warms it above its room
     */
    public record Assumptions(
            double coldLimitCelsius,
            double timeConstantSeconds,
            double coldRoomCelsius,
            double roomFallKelvin,
            double warmRoomCelsius,
            double roomRiseKelvin,
            double fanKelvin,
            double fullHeatKelvin) {

        public static final Assumptions DEFAULT = new Assumptions(20, 5400, 12, 4, 30, 2, 2, 40);

        public Assumptions {
            requireBetween("coldLimitCelsius", coldLimitCelsius, 0, 45);
            requireBetween("timeConstantSeconds", timeConstantSeconds, 60, 1e6);
            requireBetween("coldRoomCelsius", coldRoomCelsius, -40, 60);
            requireBetween("roomFallKelvin", roomFallKelvin, 0, 60);
            requireBetween("warmRoomCelsius", warmRoomCelsius, -40, 60);
            requireBetween("roomRiseKelvin", roomRiseKelvin, 0, 60);
            requireBetween("fanKelvin", fanKelvin, 0, 60);
            requireBetween("fullHeatKelvin", fullHeatKelvin, 1, 200);
        }

        private static void requireBetween(String what, double value, double least, double most) {
            if (!(value >= least && value <= most)) {
                throw new IllegalArgumentException(
                        what + " must be " + least + " to " + most + " but was " + value);
            }
        }
    }

    private static final double NANOS_PER_SECOND = 1e9;

    /** Longer is not worth a number: so far nobody trusts a constant room. */
    private static final double LONGEST_SECONDS = 30 * 86_400.0;

    private final Assumptions assumed;
    private final String words;

    public NewtonTimeLeft(Assumptions assumed) {
        this.assumed = assumed;
        this.words =
                "conservative, by constants: lower limit "
                        + Texts.celsius(assumed.coldLimitCelsius)
                        + ", upper limit the cabinet's ceiling, time constant "
                        + Texts.length(Duration.ofSeconds((long) assumed.timeConstantSeconds))
                        + ", all heat gone, or full heat where it may be stuck";
    }

    @Override
    public Estimate of(CabinetSnapshot snapshot, double coldestEggCelsius) {
        double warmest = snapshot.setPoint().celsius();
        boolean isSeen = false;
        double room = Double.NaN;
        for (ProbeReading probe : snapshot.probes()) {
            if (!(probe.reading() instanceof Reading.Good good)
                    || Observation.isDoubted(snapshot, probe.probe())) {
                continue;
            }
            Quantity value = good.value();
            if (!(value instanceof Temperature temperature)) {
                continue;
            }
            double celsius = temperature.celsius();
            if (probe.place().kind() == ProbePlace.Kind.AMBIENT) {
                room = celsius;
            } else {
                warmest = isSeen ? Math.max(warmest, celsius) : celsius;
                isSeen = true;
            }
        }
        double coldEnd =
                Double.isNaN(room) ? assumed.coldRoomCelsius : room - assumed.roomFallKelvin;
        double warmRoom =
                Double.isNaN(room) ? assumed.warmRoomCelsius : room + assumed.roomRiseKelvin;
        double warmEnd =
                warmRoom + (mayBeStuck(snapshot) ? assumed.fullHeatKelvin : assumed.fanKelvin);
        double ceiling = snapshot.limits().ceiling().celsius();
        return new Estimate(
                // The same law upside down.
                secondsUntil(-coldestEggCelsius, -assumed.coldLimitCelsius, -coldEnd)
                        .map(this::length),
                secondsUntil(warmest, ceiling, warmEnd).map(this::length),
                OptionalDouble.of(assumed.coldLimitCelsius),
                OptionalDouble.empty(),
                words);
    }

    /**
     * Whether heat may come that nobody wants: the heater does not obey, or heats beyond its limit.
     */
    public static boolean mayBeStuck(CabinetSnapshot snapshot) {
        for (Finding finding : snapshot.findings()) {
            if (finding.code().equals(FindingCode.HEATER_STUCK_ON)
                    || finding.code().equals(FindingCode.OUTPUT_FAILING)
                    || finding.code().equals(FindingCode.CUT_OFF_RELAY_STUCK)) {
                return true;
            }
        }
        return snapshot.heaterOn()
                && snapshot.processValue()
                        .map(value -> value.isAbove(snapshot.limits().tooWarm()))
                        .orElse(true);
    }

    /** Until a value that goes from {@code from} up to {@code end} passes {@code limit}. */
    private Optional<Double> secondsUntil(double from, double limit, double end) {
        if (from >= limit) {
            return Optional.of(0.0);
        }
        if (end <= limit) {
            return Optional.empty();
        }
        double seconds = assumed.timeConstantSeconds * Math.log((end - from) / (end - limit));
        return seconds > LONGEST_SECONDS ? Optional.empty() : Optional.of(seconds);
    }

    private Duration length(double seconds) {
        return Duration.ofNanos((long) (seconds * NANOS_PER_SECOND));
    }
}
