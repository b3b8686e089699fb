package io.evenwarm.agent.cabinet;

import io.evenwarm.agent.plan.CabinetPlan;
import io.evenwarm.agent.plan.ProbePlan;
import io.evenwarm.message.Reading;
import io.evenwarm.quantity.DewPoint;
import io.evenwarm.quantity.RelativeHumidity;
import io.evenwarm.quantity.Temperature;
import java.util.List;
import java.util.Optional;

/**
 * Humidity and dew point of a cabinet's air from its good readings.
 *
 * <p>A hygrometer's dew point is taken with the good thermometer in the same place, or else with
 * the process value; several are averaged. Called by the control thread only.
 */
public final class AirMoisture {

    private static final int NONE = -1;

    private final int[] hygrometers;
    private final int[] beside;
    private Optional<Double> humidityPercent = Optional.empty();
    private Optional<Temperature> dewPoint = Optional.empty();

    public AirMoisture(CabinetPlan plan) {
        List<ProbePlan> probes = plan.probes();
        hygrometers =
                java.util.stream.IntStream.range(0, probes.size())
                        .filter(i -> !probes.get(i).sensor().isThermometer())
                        .filter(i -> probes.get(i).place().kind().isAir())
                        .toArray();
        beside = new int[hygrometers.length];
        for (int h = 0; h < hygrometers.length; h++) {
            beside[h] = NONE;
            for (int i = 0; i < probes.size(); i++) {
                if (probes.get(i).sensor().isThermometer()
                        && probes.get(i).place().equals(probes.get(hygrometers[h]).place())) {
                    beside[h] = i;
                }
            }
        }
    }

    /** Whether the cabinet has a hygrometer in its air. */
    public boolean hasHygrometer() {
        return hygrometers.length > 0;
    }

    /** Takes one tick's state in. */
    public void see(CabinetState state) {
        if (hygrometers.length == 0) {
            return;
        }
        double percentSum = 0;
        double dewSum = 0;
        int count = 0;
        int dewCount = 0;
        for (int h = 0; h < hygrometers.length; h++) {
            if (state.readings().get(hygrometers[h]).reading() instanceof Reading.Good good
                    && good.value() instanceof RelativeHumidity humidity) {
                percentSum += humidity.percent();
                count++;
                Optional<Temperature> dew = dewPoint(state, beside[h], humidity);
                if (dew.isPresent()) {
                    dewSum += dew.get().celsius();
                    dewCount++;
                }
            }
        }
        humidityPercent = count == 0 ? Optional.empty() : Optional.of(percentSum / count);
        dewPoint =
                dewCount == 0 ? Optional.empty() : Optional.of(new Temperature(dewSum / dewCount));
    }

    private static Optional<Temperature> dewPoint(
            CabinetState state, int thermometer, RelativeHumidity humidity) {
        if (thermometer != NONE && state.isGood(thermometer)) {
            return DewPoint.of(new Temperature(state.celsius(thermometer)), humidity);
        }
        return state.isBlind()
                ? Optional.empty()
                : DewPoint.of(new Temperature(state.processCelsius()), humidity);
    }

    /** Mean of the good hygrometers; empty without one. */
    public Optional<Double> humidityPercent() {
        return humidityPercent;
    }

    public Optional<Temperature> dewPoint() {
        return dewPoint;
    }
}
