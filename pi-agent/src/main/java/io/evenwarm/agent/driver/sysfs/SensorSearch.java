package io.evenwarm.agent.driver.sysfs;

import java.io.IOException;
import java.nio.file.DirectoryStream;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.TreeSet;
import java.util.regex.Matcher;
import java.util.regex.Pattern;

/** Finds what Linux's sensor folders hold, by the addresses that a configuration would use. */
public final class SensorSearch {

    private static final Pattern HWMON_FILE = Pattern.compile("((?:temp|humidity)\\d+)_input");
    private static final Pattern IIO_FILE =
            Pattern.compile("in_((?:temp|humidityrelative)\\d*)_(?:input|raw)");

    private SensorSearch() {}

    /** Addresses of 1-Wire thermometers below Linux's {@code /sys/bus/w1/devices}. */
    public static List<String> oneWire(Path folder) {
        return names(folder).stream().filter(OneWireThermometer::isAddress).toList();
    }

    /** Addresses of thermometers and hygrometers below Linux's {@code /sys/class/hwmon}. */
    public static List<String> hwmon(Path folder) {
        return named(folder, HWMON_FILE).stream()
                .filter(address -> HwmonChannel.unitOf(address).isPresent())
                .toList();
    }

    /** Addresses of thermometers and hygrometers below Linux's {@code /sys/bus/iio/devices}. */
    public static List<String> iio(Path folder) {
        return named(folder, IIO_FILE).stream()
                .filter(address -> IioChannel.unitOf(address).isPresent())
                .toList();
    }

    /** Names of LED-class lines below Linux's {@code /sys/class/leds}. */
    public static List<String> leds(Path folder) {
        return names(folder).stream()
                .filter(LedLine::isName)
                .filter(name -> Files.exists(folder.resolve(name).resolve("brightness")))
                .toList();
    }

    private static List<String> named(Path folder, Pattern file) {
        List<String> addresses = new ArrayList<>();
        List<Path> devices =
                names(folder).stream()
                        .map(folder::resolve)
                        .filter(device -> name(device).isPresent())
                        .toList();
        for (Path device : devices) {
            String name = name(device).orElseThrow();
            boolean isAlone =
                    devices.stream().filter(each -> name(each).orElse("").equals(name)).count()
                            == 1;
            String parent = isAlone ? "" : "@" + NamedDevice.hardwareOf(device).orElse("?");
            for (String each : names(device)) {
                Matcher matcher = file.matcher(each);
                if (matcher.matches()) {
                    String address = name + parent + "/" + matcher.group(1);
                    if (!addresses.contains(address)) {
                        addresses.add(address);
                    }
                }
            }
        }
        return addresses;
    }

    private static Optional<String> name(Path device) {
        try {
            return Optional.of(SysfsFile.read(device.resolve("name")));
        } catch (IOException e) {
            return Optional.empty();
        }
    }

    /** In order; none where the folder is not there. */
    private static List<String> names(Path folder) {
        TreeSet<String> names = new TreeSet<>();
        try (DirectoryStream<Path> entries = Files.newDirectoryStream(folder)) {
            entries.forEach(entry -> names.add(String.valueOf(entry.getFileName())));
        } catch (IOException e) {
            return List.of();
        }
        return List.copyOf(names);
    }
}
