package io.evenwarm.monitor.chain;

import io.evenwarm.agent.plant.CabinetBuild;
import io.evenwarm.agent.plant.PlantFault;
import io.evenwarm.agent.plant.PlantTruth;
import io.evenwarm.agent.plant.SimulatedCabinet;
import io.evenwarm.agent.port.Output;
import io.evenwarm.agent.port.OutputException;
import io.evenwarm.monitor.OneProbePlan;
import io.evenwarm.monitor.evenness.AirStretch;
import java.util.Random;
import java.util.function.Consumer;
import java.util.function.DoubleUnaryOperator;

/**
 * Months of an invented cabinet on the plant, under a plain PI control and a time-proportioned
 * relay: a room with seasons and days, two looks inside a day, a reloading with cold tubs a week,
 * probes of 1/16 K read each 10 s.
 */
final class FanYears {

    private static final double SET_POINT = 31.5;
    private static final int DAY = 86_400;
    private static final int WINDOW_SECONDS = 240;
    private static final int STRETCH_SECONDS = 600;
    private static final int READ_SECONDS = 10;

    private final Random random;
    private final SimulatedCabinet cabinet;
    private final Output heater;
    private final double seasonKelvin;
    private final double startOfYear;
    private final double probeError;
    private final double noiseKelvin;
    private double integral = 0.3;
    private double duty;

    FanYears(long seed) {
        random = new Random(seed * 0x9E3779B97F4A7C15L);
        double litres = 60 * Math.pow(15, random.nextDouble());
        double loss = 0.7 + 0.8 * random.nextDouble();
        CabinetBuild build =
                CabinetBuild.ofVolume(litres, loss, 1.5 + random.nextDouble())
                        .withAmbient(19 + 3 * random.nextDouble(), 1 + 2 * random.nextDouble())
                        .withStart(28);
        cabinet = new SimulatedCabinet(build, OneProbePlan.plan(), seed);
        heater = cabinet.outputs().heater();
        seasonKelvin = 1 + 3 * random.nextDouble();
        startOfYear = random.nextDouble();
        probeError = 0.15 * random.nextGaussian();
        noiseKelvin = 0.01 + 0.03 * random.nextDouble();
    }

    private double read(double celsius) {
        return Math.rint((celsius + noiseKelvin * random.nextGaussian()) * 16) / 16;
    }

    /**
     * @param flow the fan's flow as a share of its full one, by day
     * @param sink takes ten minutes at a time
     */
    void run(int days, DoubleUnaryOperator flow, Consumer<AirStretch> sink) {
        long nanos = 0;
        cabinet.step(nanos);
        int doorUntil = 0;
        double top = 0;
        double bottom = 0;
        double on = 0;
        double air = 0;
        int reads = 0;
        for (int day = 0; day < days; day++) {
            double season = 2 * Math.PI * (startOfYear + day / 365.0);
            cabinet.inject(new PlantFault.AmbientStep(seasonKelvin * Math.sin(season)));
            double share = flow.applyAsDouble(day);
            if (share <= 0) {
                cabinet.inject(new PlantFault.FanStopped());
            } else if (share < 1) {
                cabinet.inject(new PlantFault.FanSlow(share));
            }
            int[] looks = {random.nextInt(DAY), random.nextInt(DAY)};
            int reload = day % 7 == 3 ? random.nextInt(DAY) : -1;
            for (int second = 0; second < DAY; second++) {
                int now = day * DAY + second;
                if (second == looks[0] || second == looks[1]) {
                    cabinet.inject(new PlantFault.DoorOpen());
                    doorUntil = now + 20 + random.nextInt(100);
                } else if (second == reload) {
                    cabinet.inject(new PlantFault.DoorOpen());
                    doorUntil = now + 600 + random.nextInt(300);
                    cabinet.exchangeTubs(0.1 + 0.3 * random.nextDouble());
                }
                if (now == doorUntil) {
                    cabinet.clear(new PlantFault.DoorOpen());
                }
                if (second % WINDOW_SECONDS == 0) {
                    control();
                }
                boolean isOn = second % WINDOW_SECONDS < duty * WINDOW_SECONDS;
                drive(isOn);
                nanos += 1_000_000_000L;
                cabinet.step(nanos);
                on += isOn ? 1 : 0;
                if (second % READ_SECONDS == 0) {
                    PlantTruth truth = cabinet.truth();
                    double readTop = read(truth.topAirCelsius() + probeError);
                    double readBottom = read(truth.bottomAirCelsius());
                    top += readTop;
                    bottom += readBottom;
                    air += (readTop + readBottom + read(truth.middleAirCelsius())) / 3;
                    reads++;
                }
                if (second % STRETCH_SECONDS == STRETCH_SECONDS - 1) {
                    sink.accept(
                            new AirStretch(
                                    (now + 1L - STRETCH_SECONDS) * 1000,
                                    top / reads,
                                    bottom / reads,
                                    on / STRETCH_SECONDS,
                                    air / reads - SET_POINT));
                    top = 0;
                    bottom = 0;
                    air = 0;
                    on = 0;
                    reads = 0;
                }
            }
        }
    }

    private void drive(boolean isOn) {
        try {
            heater.drive(isOn);
        } catch (OutputException e) {
            throw new AssertionError("a simulated line that nobody made fail", e);
        }
    }

    private void control() {
        double error = SET_POINT - read(cabinet.truth().meanAirCelsius());
        double wanted = 0.4 * error + integral;
        duty = Math.max(0, Math.min(1, wanted));
        if (wanted == duty || wanted > 1 == error < 0) {
            integral += 0.4 * error * WINDOW_SECONDS / 2400;
        }
    }
}
