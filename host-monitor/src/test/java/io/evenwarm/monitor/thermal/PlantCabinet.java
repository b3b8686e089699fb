package io.evenwarm.monitor.thermal;

import io.evenwarm.agent.plant.CabinetBuild;
import io.evenwarm.agent.plant.CabinetPhysics;
import io.evenwarm.agent.plant.PlantFault;
import io.evenwarm.agent.plant.PlantTruth;
import io.evenwarm.agent.plant.SimulatedCabinet;
import io.evenwarm.agent.port.Output;
import io.evenwarm.agent.port.OutputException;
import io.evenwarm.monitor.OneProbePlan;
import io.evenwarm.monitor.thermal.ThermalRecord.Channel;
import java.util.OptionalDouble;
import java.util.Random;

/**
 * An invented cabinet and load on the plant, under a plain PI control and a time-proportioned
 * relay: a room with days and weather, mains that wander, two looks inside a day, a reloading with
 * cold tubs a week, probes of 1/16 K with errors of their own read each 10 s. All of it is drawn
 * from the seed.
 */
final class PlantCabinet {

    static final int DAY = 86_400;
    static final long BEGIN_MILLIS = 1_750_000_000_000L - 1_750_000_000_000L % 60_000;

    private static final int WINDOW_SECONDS = 240;
    private static final int READ_SECONDS = 10;
    private static final int WEATHER_SECONDS = 600;

    /** Mains go above the mean too, and a fault of the plant can only take heat away. */
    private static final double HEADROOM = 1.12;

    private static final double PROBE_LAG_SECONDS = 30;

    private final Random random;
    private final CabinetBuild build;
    private final SimulatedCabinet cabinet;
    private final CabinetPhysics constants;
    private final Output heater;
    private final boolean hasTubProbe;
    private final double[] probeErrors = new double[5];
    private final double[] felt = new double[5];
    private final double noiseKelvin;
    private final double heaterOffset;
    private final double weatherKelvin;
    private final ThermalRecord.Builder record = new ThermalRecord.Builder(BEGIN_MILLIS);

    private double setPoint;
    private double dropKelvin;
    private boolean isMainsOn = true;
    private boolean isDark;
    private double mains;
    private double weather;
    private double roomStep;
    private double integral = 0.3;
    private double duty;
    private int nowSeconds;
    private int doorUntil = -1;
    private int nextLook;
    private int nextReload;
    private double shareSum;
    private int shares;

    PlantCabinet(long seed, boolean hasTubProbe) {
        random = new Random(seed * 0x9E3779B97F4A7C15L);
        this.hasTubProbe = hasTubProbe;
        double litres = 60 * Math.pow(15, random.nextDouble());
        double loss = 0.7 + 0.8 * random.nextDouble();
        CabinetBuild usual = CabinetBuild.ofVolume(litres, loss, 1.5 + random.nextDouble());
        int tubs = (int) Math.max(1, Math.rint(usual.tubs() * (0.4 + random.nextDouble())));
        setPoint = 28 + 4 * random.nextDouble();
        build =
                new CabinetBuild(
                        litres,
                        usual.heatLossWattsPerKelvin(),
                        usual.heaterWatts() * HEADROOM,
                        usual.fanWatts() * (0.7 + 0.6 * random.nextDouble()),
                        tubs,
                        0.7 + 1.6 * random.nextDouble(),
                        17 + 5 * random.nextDouble(),
                        1 + 2.5 * random.nextDouble(),
                        setPoint,
                        0.015);
        cabinet = new SimulatedCabinet(build, OneProbePlan.plan(), seed);
        constants = new CabinetPhysics(build);
        heater = cabinet.outputs().heater();
        for (int i = 0; i < probeErrors.length; i++) {
            probeErrors[i] = 0.1 * random.nextGaussian();
            felt[i] = setPoint;
        }
        noiseKelvin = 0.01 + 0.03 * random.nextDouble();
        heaterOffset = 0.07 * (2 * random.nextDouble() - 1);
        weatherKelvin = 0.5 + random.nextDouble();
        cabinet.step(0);
        nextLook = random.nextInt(DAY / 2);
        nextReload = random.nextInt(7 * DAY);
        felt[4] = cabinet.truth().ambientCelsius();
    }

    /** What it says on the heater; the true watts differ from it by up to 10 %. */
    double statedWatts() {
        return build.heaterWatts() / HEADROOM;
    }

    /** Of all tubs together, as the list of tubs would say. */
    double loadKilograms() {
        return build.tubs() * build.tubKilograms();
    }

    double lossWattsPerKelvin() {
        return build.heatLossWattsPerKelvin();
    }

    /** Mean of what the heater gives while on, W. */
    double meanWatts() {
        return build.heaterWatts() * shareSum / shares;
    }

    /** What a meter shows while the heater is on now, W; it errs by up to 1 %. */
    double measuredWatts() {
        return build.heaterWatts() * share() * (1 + 0.01 * (2 * random.nextDouble() - 1));
    }

    double eggTimeConstantSeconds() {
        return constants.eggTimeConstantSeconds(1);
    }

    double setPointCelsius() {
        return setPoint;
    }

    PlantTruth truth() {
        return cabinet.truth();
    }

    int nowSeconds() {
        return nowSeconds;
    }

    long nowMillis() {
        return BEGIN_MILLIS + nowSeconds * 1000L;
    }

    ThermalRecord record() {
        return record.build();
    }

    /**
     * What is found out of its record and of what stands on it.
     *
     * @param measuredWatts what a meter showed; empty where nobody looked at one
     */
    ThermalFit fit(OptionalDouble measuredWatts) {
        return ThermalFitter.fit(
                        record(),
                        new ThermalFacts(
                                OptionalDouble.of(loadKilograms()),
                                OptionalDouble.of(statedWatts()),
                                measuredWatts))
                .orElseThrow();
    }

    /** Lowers the set point by so much from 22 to 6 o'clock. */
    void dropAtNight(double kelvin) {
        dropKelvin = kelvin;
    }

    /** Mains off: neither heater nor fan; where the agent is dark too, nothing is recorded. */
    void cutMains(boolean agentIsDark) {
        isMainsOn = false;
        isDark = agentIsDark;
        cabinet.inject(new PlantFault.MainsCut());
        doorUntil = -1;
        cabinet.clear(new PlantFault.DoorOpen());
    }

    void returnMains() {
        isMainsOn = true;
        isDark = false;
        cabinet.clear(new PlantFault.MainsCut());
        duty = 1;
    }

    /** Mains on again, with nothing recorded: the agent heats, and its readings are lost. */
    void returnMainsUnseen() {
        returnMains();
        isDark = true;
        nextLook = -1;
        nextReload = -1;
    }

    /** From here on nobody opens the door. */
    void stopDoors() {
        doorUntil = -1;
        nextLook = -1;
        nextReload = -1;
        cabinet.clear(new PlantFault.DoorOpen());
    }

    /** The heater gives no heat any more. */
    void breakHeater() {
        cabinet.inject(new PlantFault.HeaterOpen());
    }

    /** The heater stays on whatever it is told. */
    void weldHeater() {
        cabinet.inject(new PlantFault.HeaterRelayWelded());
    }

    /** The room goes by so much from what it would be. */
    void moveRoom(double kelvin) {
        roomStep = kelvin;
    }

    void run(int seconds) {
        for (int end = nowSeconds + seconds; nowSeconds < end; ) {
            second();
        }
    }

    private double share() {
        return Math.max(0.9, Math.min(1.1, 1 + heaterOffset + mains)) / HEADROOM;
    }

    private void second() {
        if (nowSeconds % WEATHER_SECONDS == 0) {
            mains = stir(mains, 0.015, 4 * 3600);
            weather = stir(weather, weatherKelvin, 86_400);
            cabinet.inject(new PlantFault.AmbientStep(weather + roomStep));
            cabinet.inject(new PlantFault.HeaterWeak(share()));
            shareSum += share();
            shares++;
        }
        if (isMainsOn) {
            doors();
        }
        if (nowSeconds % WINDOW_SECONDS == 0) {
            control();
        }
        boolean isOn = isMainsOn && nowSeconds % WINDOW_SECONDS < duty * WINDOW_SECONDS;
        drive(isOn);
        nowSeconds++;
        cabinet.step(nowSeconds * 1_000_000_000L);
        PlantTruth truth = cabinet.truth();
        feel(0, truth.topAirCelsius());
        feel(1, truth.middleAirCelsius());
        feel(2, truth.bottomAirCelsius());
        feel(3, truth.middleTubCelsius());
        feel(4, truth.ambientCelsius());
        if (isDark) {
            return;
        }
        long millis = nowMillis() - 1;
        record.add(Channel.DUTY, millis, isOn ? 1 : 0);
        if (!isMainsOn) {
            record.fanOff(millis);
        }
        if (nowSeconds % READ_SECONDS == 0) {
            double top = read(0);
            double middle = read(1);
            double bottom = read(2);
            record.add(Channel.AIR, millis, (top + middle + bottom) / 3);
            record.add(Channel.COLDEST_AIR, millis, bottom);
            record.add(Channel.WARMEST_AIR, millis, top);
            record.add(Channel.ROOM, millis, read(4));
            if (hasTubProbe) {
                record.add(Channel.TUB, millis, read(3));
            }
        }
    }

    /** A random walk that is drawn back to 0. */
    private double stir(double before, double deviation, double memorySeconds) {
        double kept = Math.exp(-WEATHER_SECONDS / memorySeconds);
        return kept * before + Math.sqrt(1 - kept * kept) * deviation * random.nextGaussian();
    }

    private void doors() {
        if (nowSeconds == nextLook) {
            nextLook += DAY / 4 + random.nextInt(DAY / 2);
            cabinet.inject(new PlantFault.DoorOpen());
            doorUntil = nowSeconds + 20 + random.nextInt(100);
        }
        if (nowSeconds == nextReload) {
            nextReload += 5 * DAY + random.nextInt(4 * DAY);
            cabinet.inject(new PlantFault.DoorOpen());
            doorUntil = nowSeconds + 600 + random.nextInt(300);
            cabinet.exchangeTubs(0.1 + 0.3 * random.nextDouble());
            record.loadChanged(nowMillis());
        }
        if (nowSeconds == doorUntil) {
            cabinet.clear(new PlantFault.DoorOpen());
        }
    }

    private void feel(int probe, double around) {
        felt[probe] += (around - felt[probe]) / PROBE_LAG_SECONDS;
    }

    private double read(int probe) {
        double value = felt[probe] + probeErrors[probe] + noiseKelvin * random.nextGaussian();
        return Math.rint(value * 16) / 16;
    }

    private void drive(boolean isOn) {
        try {
            heater.drive(isOn);
        } catch (OutputException e) {
            throw new AssertionError("a simulated line that nobody made fail", e);
        }
    }

    private void control() {
        int ofDay = nowSeconds % DAY;
        boolean isNight = ofDay >= 22 * 3600 || ofDay < 6 * 3600;
        double wish = isNight ? setPoint - dropKelvin : setPoint;
        double error = wish - (felt[0] + felt[1] + felt[2]) / 3;
        double wanted = 0.4 * error + integral;
        duty = Math.max(0, Math.min(1, wanted));
        if (isMainsOn && (wanted == duty || wanted > 1 == error < 0)) {
            integral += 0.4 * error * WINDOW_SECONDS / 2400;
        }
    }
}
