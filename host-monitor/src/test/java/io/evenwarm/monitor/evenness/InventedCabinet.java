package io.evenwarm.monitor.evenness;

import io.evenwarm.message.AgentName;
import io.evenwarm.message.CabinetName;
import io.evenwarm.message.ProbeName;
import io.evenwarm.message.ProbePlace;
import io.evenwarm.monitor.history.CabinetCurves;
import io.evenwarm.monitor.history.CabinetKey;
import io.evenwarm.monitor.history.Curve;
import io.evenwarm.monitor.history.ProbeCurve;
import io.evenwarm.monitor.history.TimeSpan;
import io.evenwarm.quantity.TemperatureUnit;
import java.time.Instant;
import java.time.ZoneOffset;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.Random;

/**
 * A cabinet whose evenness is known because it was made up: each point has its own mean, all share
 * slow changes (AR(1) with a memory of half an hour) and the heater's cycle, each has faster ones
 * of its own. One reading a minute unless said.
 */
final class InventedCabinet {

    static final Instant BEGIN = Instant.parse("2030-03-01T00:00:00Z");
    static final double SET_POINT = 31.5;

    static final Wording WORDING = new Wording(TemperatureUnit.CELSIUS, ZoneOffset.UTC);

    /** Compared side by side, ± 0.05 K. */
    static final ProbeQuality COMPARED =
            new ProbeQuality(0.0625, 0.5, 0, OptionalDouble.of(0.025), 0);

    static final CabinetKey KEY =
            new CabinetKey(new AgentName("egg room"), new CabinetName("north"));

    private static final String[] PLACES = {
        "top left front",
        "top right back",
        "middle",
        "bottom left front",
        "bottom right back",
        "shelf 1",
        "shelf 2",
        "shelf 3",
        "shelf 4"
    };

    private final double[] means;
    private final Random random;
    private int stepSeconds = 60;
    private double minutes = 24 * 60;
    private ProbeQuality quality = COMPARED;
    private double warmingUpKelvin;
    private double limitKelvin = SurveyInput.DIN_12880_KELVIN;
    private double roomCelsius = 21;
    private double partingPerKelvinOfWarming;
    private Optional<Double> doorMinute = Optional.empty();
    private Optional<Instant> doorTold = Optional.empty();
    private boolean isQuiet;

    InventedCabinet(long seed, double... means) {
        this.means = means.clone();
        random = new Random(seed);
    }

    /** Nine points within ±0.25 K of the set point, the same for one seed. */
    static double[] nineMeans(long seed) {
        Random random = new Random(seed * 31 + 7);
        double[] means = new double[PLACES.length];
        Arrays.setAll(means, i -> SET_POINT + 0.5 * (random.nextDouble() - 0.5));
        return means;
    }

    InventedCabinet each(int seconds) {
        stepSeconds = seconds;
        return this;
    }

    InventedCabinet hours(double hours) {
        minutes = hours * 60;
        return this;
    }

    InventedCabinet withProbes(ProbeQuality of) {
        quality = of;
        return this;
    }

    /** Begins that much colder and comes up with a time constant of half an hour. */
    InventedCabinet warmingUpFrom(double kelvinBelow) {
        warmingUpKelvin = kelvinBelow;
        return this;
    }

    InventedCabinet withLimit(double kelvin) {
        limitKelvin = kelvin;
        return this;
    }

    /** No change but the heater's cycle. */
    InventedCabinet quiet() {
        isQuiet = true;
        return this;
    }

    /** The first point is warmer by this for each kelvin that the inside is above the room. */
    InventedCabinet inRoom(double celsius, double partingPerKelvin) {
        roomCelsius = celsius;
        partingPerKelvinOfWarming = partingPerKelvin;
        return this;
    }

    /** The door is open for 30 s from that minute on: the air falls by 3 K, back in 5 min. */
    InventedCabinet doorAt(double minute) {
        doorMinute = Optional.of(minute);
        return this;
    }

    InventedCabinet doorToldAt(double minute) {
        doorTold = Optional.of(at(minute));
        return doorAt(minute);
    }

    static Instant at(double minute) {
        return BEGIN.plusMillis(Math.round(minute * 60_000));
    }

    SurveyInput input() {
        return input(points());
    }

    SurveyInput input(List<SurveyPoint> points) {
        int count = (int) (minutes * 60 / stepSeconds);
        return new SurveyInput(
                new TimeSpan(BEGIN, at(minutes)),
                points,
                List.of(),
                constant(count, SET_POINT),
                constant(count, 0.3),
                room(count),
                limitKelvin,
                OptionalDouble.empty(),
                doorTold,
                WORDING);
    }

    private Curve constant(int count, double value) {
        double[] values = new double[count];
        Arrays.fill(values, value);
        return Curve.of(times(count), values, count);
    }

    /** Colder by night: the same each day. */
    private Curve room(int count) {
        double[] values = new double[count];
        Arrays.setAll(values, this::roomAt);
        return Curve.of(times(count), values, count);
    }

    private double roomAt(int index) {
        return roomCelsius + 1.5 * Math.sin(2 * Math.PI * index * stepSeconds / 86_400);
    }

    private long[] times(int count) {
        long[] times = new long[count];
        Arrays.setAll(times, i -> BEGIN.toEpochMilli() + 1000L * stepSeconds * i);
        return times;
    }

    List<SurveyPoint> points() {
        int count = (int) (minutes * 60 / stepSeconds);
        double[][] values = new double[means.length][count];
        double common = 0.05 * random.nextGaussian();
        double[] own = new double[means.length];
        double stay = Math.exp(-stepSeconds / 1800.0);
        double stayOwn = Math.exp(-stepSeconds / 600.0);
        for (int t = 0; t < count; t++) {
            double minute = t * stepSeconds / 60.0;
            common = stay * common + 0.05 * Math.sqrt(1 - stay * stay) * random.nextGaussian();
            double shared = 0.03 * Math.sin(2 * Math.PI * minute / 4);
            shared -= warmingUpKelvin * Math.exp(-minute / 30);
            shared += isQuiet ? 0 : common;
            if (doorMinute.isPresent() && minute >= doorMinute.get()) {
                shared -= 3 * Math.exp(-(minute - doorMinute.get()) / 5);
            }
            for (int i = 0; i < means.length; i++) {
                own[i] =
                        stayOwn * own[i]
                                + 0.04 * Math.sqrt(1 - stayOwn * stayOwn) * random.nextGaussian();
                double parting =
                        i == 0 ? partingPerKelvinOfWarming * (SET_POINT - roomAt(t) - 10) : 0;
                double air = means[i] + shared + parting + (isQuiet ? 0 : own[i]);
                double read = air + 0.02 * random.nextGaussian();
                values[i][t] = Math.rint(read * 16) / 16;
            }
        }
        List<SurveyPoint> points = new ArrayList<>();
        List<Position> positions = positions(means.length);
        for (int i = 0; i < means.length; i++) {
            points.add(
                    new SurveyPoint(
                            "p" + (i + 1),
                            positions.get(i),
                            quality,
                            Curve.of(times(count), values[i], count)));
        }
        return points;
    }

    static List<Position> positions(int count) {
        List<ProbePlace> places = new ArrayList<>();
        for (int i = 0; i < count; i++) {
            String place = PLACES[i % PLACES.length];
            places.add(
                    ProbePlace.of(i < PLACES.length ? place : place + " row " + i / PLACES.length));
        }
        return Position.of(places);
    }

    /** The same as a history has it. */
    CabinetCurves curves() {
        SurveyInput input = input();
        List<ProbeCurve> probes = new ArrayList<>();
        for (SurveyPoint point : input.temperatures()) {
            probes.add(
                    new ProbeCurve(
                            new ProbeName(point.probe()),
                            ProbePlace.of(point.position().label()),
                            ProbeCurve.Unit.CELSIUS,
                            point.curve()));
        }
        return new CabinetCurves(
                KEY,
                input.span(),
                probes,
                input.setPointCelsius(),
                input.heaterOnFraction(),
                Optional.empty());
    }

    /** What of that had come in a span. */
    static CabinetCurves of(CabinetCurves whole, TimeSpan span) {
        return new CabinetCurves(
                whole.key(),
                span,
                whole.probes().stream()
                        .map(
                                probe ->
                                        new ProbeCurve(
                                                probe.probe(),
                                                probe.place(),
                                                probe.unit(),
                                                of(probe.curve(), span)))
                        .toList(),
                of(whole.setPointCelsius(), span),
                of(whole.heaterOnFraction(), span),
                whole.limits());
    }

    private static Curve of(Curve curve, TimeSpan span) {
        long[] times = new long[curve.size()];
        double[] values = new double[curve.size()];
        int count = 0;
        for (int i = 0; i < times.length; i++) {
            Instant at = Instant.ofEpochMilli(curve.epochMillis(i));
            if (!at.isBefore(span.from()) && at.isBefore(span.to())) {
                times[count] = curve.epochMillis(i);
                values[count++] = curve.value(i);
            }
        }
        return Curve.of(times, values, count);
    }

    SurveyResult survey() {
        return Survey.of(input());
    }
}
