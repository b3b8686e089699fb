package io.evenwarm.agent.plant;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertInstanceOf;
import static org.junit.jupiter.api.Assertions.assertNotEquals;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import io.evenwarm.agent.plan.CabinetPlan;
import io.evenwarm.agent.plan.ProbePlan;
import io.evenwarm.agent.port.CabinetOutputs;
import io.evenwarm.agent.port.OutputException;
import io.evenwarm.agent.port.Probe;
import io.evenwarm.agent.port.Sample;
import io.evenwarm.message.ProbeName;
import io.evenwarm.message.ProbePlace;
import io.evenwarm.message.Reading;
import java.util.ArrayList;
import java.util.List;
import org.junit.jupiter.api.Test;

final class SimulatedCabinetTest {

    private static final long SECOND = 1_000_000_000L;
    private static final ProbeName TOP = new ProbeName("top");
    private static final CabinetBuild BUILD = CabinetBuild.ofVolume(250, 1.0, 3);

    private final CabinetPlan plan =
            Cabinets.with(ProbePlace.TOP, ProbePlace.BOTTOM, ProbePlace.TUB, ProbePlace.AMBIENT);
    private final SimulatedCabinet cabinet = new SimulatedCabinet(BUILD, plan, 7);
    private final CabinetOutputs outputs = cabinet.outputs();
    private long now = 5 * SECOND;

    private void run(double seconds) {
        cabinet.step(now);
        now += (long) (seconds * SECOND);
        cabinet.step(now);
    }

    private Sample sample(int probe) {
        return cabinet.probes().get(probe).newest();
    }

    private double celsius(int probe) {
        return assertInstanceOf(Sample.Measured.class, sample(probe)).value();
    }

    private void heat(boolean heater, boolean cutOff, boolean fan) throws OutputException {
        outputs.heater().drive(heater);
        outputs.cutOffRelay().orElseThrow().drive(cutOff);
        outputs.fan().orElseThrow().drive(fan);
    }

    private static List<Sample> record(long seed) throws OutputException {
        CabinetPlan plan = Cabinets.with(ProbePlace.TOP, ProbePlace.MIDDLE, ProbePlace.BOTTOM);
        SimulatedCabinet cabinet = new SimulatedCabinet(BUILD, plan, seed);
        cabinet.inject(new PlantFault.BusErrors(0.1));
        cabinet.outputs().cutOffRelay().orElseThrow().drive(true);
        List<Sample> samples = new ArrayList<>();
        for (long second = 0; second < 3600; second++) {
            cabinet.outputs().heater().drive(second % 60 < 20);
            cabinet.step(second * SECOND);
            for (Probe probe : cabinet.probes()) {
                samples.add(probe.newest());
            }
        }
        return samples;
    }

    @Test
    void oneSeedGivesOneRunBitForBit() throws OutputException {
        assertEquals(record(11), record(11));
        assertNotEquals(record(11), record(12));
    }

    @Test
    void itDoesNotMatterHowOftenItIsStepped() {
        run(600);
        SimulatedCabinet other = new SimulatedCabinet(BUILD, plan, 7);
        for (long at = 5 * SECOND; at <= now; at += SECOND / 10) {
            other.step(at);
        }
        assertEquals(cabinet.truth(), other.truth());
        assertEquals(sample(0), other.probes().get(0).newest());
    }

    /** DS18B20 datasheet: power-on value 85 °C; tCONV at 12 bits 750 ms. */
    @Test
    void aProbeSaysEightyFiveUntilItsFirstConversionWhichWaitsForThoseBeforeIt() {
        assertInstanceOf(Sample.NotYet.class, sample(0));
        run(0);
        for (int i = 0; i < 4; i++) {
            assertEquals(85, celsius(i));
        }
        run(2);
        assertEquals(5 * SECOND + SECOND * 3 / 4, sample(0).atNanos());
        assertEquals(5 * SECOND + SECOND * 3 / 2, sample(1).atNanos());
        assertEquals(21, celsius(1), 0.25);
        assertEquals(85, celsius(2), "third conversion ends at 2.25 s");
        run(2);
        assertEquals(5 * SECOND + SECOND * 15 / 4, sample(0).atNanos(), "second round of four");
    }

    /** DS18B20 datasheet, Table 1: a bit is 1/16 °C. */
    @Test
    void readingsAreWholeSixteenthsAndScatterAsTheBuildSays() {
        CabinetBuild noisy = new CabinetBuild(250, 2, 100, 3, 5, 1.5, 21, 0, 21, 0.5);
        SimulatedCabinet shaken =
                new SimulatedCabinet(noisy, Cabinets.with(ProbePlace.AMBIENT, ProbePlace.TOP), 3);
        double sum = 0;
        double squares = 0;
        shaken.step(0);
        int n = 20_000;
        for (int i = 1; i <= n; i++) {
            shaken.step(i * 3L * SECOND / 2 + SECOND);
            Sample.Measured measured =
                    assertInstanceOf(Sample.Measured.class, shaken.probes().get(0).newest());
            assertEquals(0, measured.value() * 16 % 1, "not a sixteenth: " + measured);
            sum += measured.value() - 21;
            squares += (measured.value() - 21) * (measured.value() - 21);
        }
        assertEquals(0, sum / n, 0.02);
        assertEquals(0.5, StrictMath.sqrt(squares / n), 0.01);
    }

    @Test
    void heatFlowsOnlyWithBothRelaysClosedAndMainsOn() throws OutputException {
        heat(true, false, true);
        run(2);
        assertEquals(0, cabinet.truth().heaterWatts());
        heat(true, true, true);
        run(2);
        assertEquals(BUILD.heaterWatts(), cabinet.truth().heaterWatts());
        cabinet.inject(new PlantFault.MainsCut());
        run(2);
        assertEquals(0, cabinet.truth().heaterWatts());
        assertEquals(0, cabinet.truth().flowShare());
        cabinet.clear(new PlantFault.MainsCut());
        run(2);
        assertEquals(1, cabinet.truth().flowShare());
        cabinet.inject(new PlantFault.HeaterWeak(0.5));
        run(2);
        assertEquals(BUILD.heaterWatts() / 2, cabinet.truth().heaterWatts());
        cabinet.inject(new PlantFault.HeaterOpen());
        run(2);
        assertEquals(0, cabinet.truth().heaterWatts());
    }

    @Test
    void aWeldedHeaterRelayIsStoppedByTheCutOffRelayUnlessThatStuckToo() throws OutputException {
        heat(false, true, true);
        cabinet.inject(new PlantFault.HeaterRelayWelded());
        run(2);
        assertEquals(BUILD.heaterWatts(), cabinet.truth().heaterWatts());
        heat(false, false, true);
        run(2);
        assertEquals(0, cabinet.truth().heaterWatts());
        cabinet.inject(new PlantFault.CutOffRelayStuck());
        run(2);
        assertEquals(BUILD.heaterWatts(), cabinet.truth().heaterWatts());
    }

    @Test
    void withoutACutOffRelayNoneIsOfferedAndAWeldedRelayHeatsOn() throws OutputException {
        SimulatedCabinet bare = new SimulatedCabinet(BUILD, Cabinets.with(plan.probes(), false), 1);
        assertTrue(bare.outputs().cutOffRelay().isEmpty());
        bare.inject(new PlantFault.HeaterRelayWelded());
        bare.step(0);
        bare.step(SECOND);
        assertEquals(BUILD.heaterWatts(), bare.truth().heaterWatts());
    }

    @Test
    void fanFaultsShowInTheFlowAndInTheAir() throws OutputException {
        heat(true, true, true);
        run(1800);
        double mixed = cabinet.truth().topAirCelsius() - cabinet.truth().bottomAirCelsius();
        cabinet.inject(new PlantFault.FanSlow(0.4));
        run(2);
        assertEquals(0.4, cabinet.truth().flowShare());
        cabinet.inject(new PlantFault.FanStopped());
        run(1800);
        assertEquals(0, cabinet.truth().flowShare());
        double parted = cabinet.truth().topAirCelsius() - cabinet.truth().bottomAirCelsius();
        assertTrue(parted > mixed + 3, mixed + " K, then " + parted + " K");
    }

    @Test
    void anOpenDoorLetsTheAirOutFarFasterThanTheTubsCool() throws OutputException {
        heat(true, true, true);
        run(6 * 3600);
        heat(false, true, true);
        PlantTruth warm = cabinet.truth();
        cabinet.inject(new PlantFault.DoorOpen());
        run(300);
        PlantTruth open = cabinet.truth();
        double airFell = warm.meanAirCelsius() - open.meanAirCelsius();
        double tubsFell = warm.middleTubCelsius() - open.middleTubCelsius();
        assertTrue(airFell > 5 && tubsFell < airFell / 4, airFell + " K and " + tubsFell + " K");
    }

    @Test
    void theRoomCanStep() {
        run(60);
        double before = cabinet.truth().ambientCelsius();
        cabinet.inject(new PlantFault.AmbientStep(-8));
        run(60);
        assertEquals(before - 8, cabinet.truth().ambientCelsius(), 0.1);
    }

    /** Lumped response of the element: a fallen probe loses 1 − 1/e of its difference in its τ. */
    @Test
    void aFallenProbeShowsTheRoomAfterItsLag() throws OutputException {
        heat(true, true, true);
        run(3 * 3600);
        double inside = celsius(0);
        double room = cabinet.truth().ambientCelsius();
        cabinet.inject(new PlantFault.ProbeFellOut(TOP));
        run(60);
        assertEquals(0.36788, (celsius(0) - room) / (inside - room), 0.06);
        run(600);
        assertEquals(cabinet.truth().ambientCelsius(), celsius(0), 0.2);
        cabinet.clear(new PlantFault.ProbeFellOut(TOP));
        run(600);
        assertEquals(cabinet.truth().topAirCelsius(), celsius(0), 0.2);
    }

    @Test
    void aFrozenProbeStaysAndADriftingOneLeaves() throws OutputException {
        run(60);
        double last = celsius(0);
        cabinet.inject(new PlantFault.ProbeFrozen(TOP));
        cabinet.inject(new PlantFault.ProbeDrift(new ProbeName("ambient"), 2));
        heat(true, true, true);
        run(3600);
        assertEquals(last, celsius(0));
        assertTrue(now - sample(0).atNanos() < 4 * SECOND, "it still answers");
        assertEquals(cabinet.truth().ambientCelsius() + 2, celsius(3), 0.2);
        assertTrue(celsius(1) > last + 2, "the bottom probe follows");
    }

    @Test
    void aLostProbeIsNotThereAndPowersUpAnewWhenItComesBack() {
        run(60);
        cabinet.inject(new PlantFault.ProbeDropout(TOP));
        run(4);
        assertEquals(
                Reading.Doubt.NOT_THERE, assertInstanceOf(Sample.Failed.class, sample(0)).why());
        cabinet.clear(new PlantFault.ProbeDropout(TOP));
        run(3);
        assertEquals(85, celsius(0));
        run(3);
        assertEquals(21, celsius(0), 1);
    }

    @Test
    void aHungBusGivesNothingNewAndGoesOnAfterwards() {
        run(60);
        Sample before = sample(0);
        cabinet.inject(new PlantFault.BusHang());
        run(60);
        assertEquals(before, sample(0));
        cabinet.clear(new PlantFault.BusHang());
        run(4);
        assertTrue(now - sample(0).atNanos() <= 4 * SECOND);
    }

    @Test
    void busErrorsFailTheirShareOfReadings() {
        cabinet.inject(new PlantFault.BusErrors(0.25));
        run(0);
        int failed = 0;
        long seen = -1;
        int read = 0;
        for (int i = 0; i < 12_000; i++) {
            run(1);
            if (sample(0).atNanos() != seen) {
                seen = sample(0).atNanos();
                read++;
                if (sample(0) instanceof Sample.Failed failure) {
                    failed++;
                    assertEquals(Reading.Doubt.CHECKSUM, failure.why());
                }
            }
        }
        assertEquals(4000, read, 1);
        assertEquals(0.25, (double) failed / read, 0.03);
    }

    @Test
    void otherThermometersAreReadEachSecondAndHygrometersShowDampAir() {
        List<ProbePlan> probes =
                List.of(
                        new ProbePlan(
                                TOP,
                                ProbePlace.TOP,
                                false,
                                0,
                                10,
                                ProbePlan.Sensor.OTHER_THERMOMETER),
                        new ProbePlan(
                                new ProbeName("damp"),
                                ProbePlace.MIDDLE,
                                false,
                                0,
                                10,
                                ProbePlan.Sensor.HYGROMETER));
        SimulatedCabinet mixed = new SimulatedCabinet(BUILD, Cabinets.with(probes, true), 5);
        mixed.step(0);
        assertInstanceOf(Sample.NotYet.class, mixed.probes().get(0).newest());
        mixed.step(10 * SECOND);
        assertEquals(10 * SECOND, mixed.probes().get(0).newest().atNanos());
        Sample.Measured damp =
                assertInstanceOf(Sample.Measured.class, mixed.probes().get(1).newest());
        assertEquals(Sample.Unit.PERCENT_RELATIVE_HUMIDITY, damp.unit());
        assertEquals(90, damp.value(), 2);
    }

    @Test
    void aLineThatWasClosedIsOffAndCannotBeDriven() throws OutputException {
        heat(true, true, true);
        outputs.heater().close();
        run(2);
        assertEquals(0, cabinet.truth().heaterWatts());
        assertThrows(OutputException.class, () -> outputs.heater().drive(true));
    }

    @Test
    void aFaultOfAProbeThatIsNotThereIsRefused() {
        ProbeName nowhere = new ProbeName("nowhere");
        assertThrows(
                IllegalArgumentException.class,
                () -> cabinet.inject(new PlantFault.ProbeFrozen(nowhere)));
    }

    @Test
    void impossibleBuildsAreRefusedWithWhatIsAllowed() {
        IllegalArgumentException tooSmall =
                assertThrows(IllegalArgumentException.class, () -> CabinetBuild.ofVolume(5, 1, 3));
        assertTrue(tooSmall.toString().contains("20"), tooSmall.toString());
        assertThrows(IllegalArgumentException.class, () -> BUILD.withNoise(Double.NaN));
    }
}
