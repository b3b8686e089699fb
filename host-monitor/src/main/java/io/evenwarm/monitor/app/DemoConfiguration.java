package io.evenwarm.monitor.app;

import io.evenwarm.link.KeyPin;
import java.nio.file.Path;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Locale;
import java.util.Map;

/**
 * The agent's configuration in the demo: three simulated cabinets, each another size, wall and
 * heater. All names and numbers are invented.
 */
final class DemoConfiguration {

    static final String AGENT_NAME = "invented egg room";

    /** Simulated seconds a second that an agent allows. */
    static final double SPEED_MAX = 3600;

    /** From here on a record for each simulated second would be more than a demo needs. */
    private static final double FAST = 10;

    /**
     * One invented cabinet.
     *
     * @param volumeLitres of the inside
     * @param heatLossWattsPerKelvin walls of 1.2, 1.0 and 0.8 W/m²K times a wall area that such a
     *     volume usually has
     * @param heaterWatts 4, 3 and 2 times what holds 31.5 °C in a room of 12 °C
     * @param setPointCelsius near 31.5
     * @param startCelsius of everything in it
     */
    private record Cabinet(
            String name,
            double volumeLitres,
            double heatLossWattsPerKelvin,
            double heaterWatts,
            double setPointCelsius,
            double startCelsius,
            double noiseKelvin) {}

    /** What the simulation puts into each tub, g (docs/configuration.md). */
    static final double TUB_GRAMS = 1500;

    /** As the simulation has it: a tub for each 25 L. */
    private static final double LITRES_PER_TUB = 25;

    private static final List<Cabinet> CABINETS =
            List.of(
                    new Cabinet("Juniper", 80, 1.39, 108, 31.0, 31.0, 0.03),
                    new Cabinet("Rowan", 250, 2.48, 145, 31.5, 31.5, 0.015),
                    new Cabinet("Yew", 700, 3.94, 154, 32.0, 32.0, 0));

    /** Where each cabinet has a probe, and what that is called. */
    static final List<String> POSITIONS = List.of("top", "middle", "bottom", "tub");

    private DemoConfiguration() {}

    /** What the cabinets are called. */
    static List<String> cabinets() {
        return CABINETS.stream().map(Cabinet::name).toList();
    }

    /**
     * @param monitorKey the only key that the agent lets in
     * @param stateFolder the agent's own
     * @param speed simulated seconds a second
     * @param seed of the simulation
     */
    static String text(KeyPin monitorKey, Path stateFolder, double speed, long seed) {
        StringBuilder text = new StringBuilder(4096);
        text.append("# Written by evenwarm demo. All names and numbers are invented.\n");
        table(text, "[agent]", "name = " + Json.text(AGENT_NAME));
        line(text, "state_folder = " + Json.text(stateFolder.toString()));
        table(text, "[link.tls]", "listen = \"127.0.0.1:0\"");
        line(text, "trusted_keys = [" + Json.text(monitorKey.toString()) + "]");
        table(text, "[journal]", "interval_seconds = " + (speed < FAST ? 1 : 5));
        line(text, "commit_seconds = 1");
        table(text, "[simulation]", "seed = " + seed);
        line(text, "speed = " + number(speed));
        // Not every desktop's system says so, and invented cabinets need no one to look for it.
        line(text, "clock_is_set = true");
        CABINETS.forEach(cabinet -> cabinet(text, cabinet));
        return text.toString();
    }

    private static void cabinet(StringBuilder text, Cabinet cabinet) {
        table(text, "[[cabinet]]", "name = " + Json.text(cabinet.name));
        line(text, "set_point_celsius = " + number(cabinet.setPointCelsius));
        for (String position : POSITIONS) {
            probe(text, position, position);
        }
        // Without it no thermal model fits.
        probe(text, "room", "ambient");
        for (String output : List.of("heater", "cut_off_relay", "fan", "buzzer")) {
            table(text, "[cabinet." + output + "]", "driver = \"simulated\"");
        }
        table(text, "[cabinet.simulated]", "volume_litres = " + number(cabinet.volumeLitres));
        line(text, "heat_loss_watts_per_kelvin = " + number(cabinet.heatLossWattsPerKelvin));
        line(text, "heater_watts = " + number(cabinet.heaterWatts));
        line(text, "ambient_celsius = 22");
        line(text, "ambient_swing_kelvin = 4");
        line(text, "start_celsius = " + number(cabinet.startCelsius));
        line(text, "noise_kelvin = " + number(cabinet.noiseKelvin));
    }

    private static void probe(StringBuilder text, String name, String position) {
        table(text, "[[cabinet.probe]]", "name = " + Json.text(name));
        line(text, "position = " + Json.text(position));
        line(text, "driver = \"simulated\"");
    }

    /** How many tubs stand in each cabinet, by its name. */
    static Map<String, Integer> tubCounts() {
        Map<String, Integer> counts = new LinkedHashMap<>();
        for (Cabinet cabinet : CABINETS) {
            counts.put(
                    cabinet.name,
                    (int) Math.max(1, Math.rint(cabinet.volumeLitres / LITRES_PER_TUB)));
        }
        return counts;
    }

    private static void table(StringBuilder text, String header, String firstLine) {
        text.append('\n');
        line(text, header);
        line(text, firstLine);
    }

    private static void line(StringBuilder text, String line) {
        text.append(line).append('\n');
    }

    private static String number(double value) {
        return value == Math.rint(value)
                ? String.format(Locale.ROOT, "%.0f", value)
                : Double.toString(value);
    }
}
