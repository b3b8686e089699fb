package io.evenwarm.agent.driver.sysfs;

import io.evenwarm.agent.port.Sample;
import io.evenwarm.message.Reading.Doubt;
import java.io.IOException;
import java.nio.file.DirectoryStream;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;

/**
 * Finds the folder of a device by its name, below a class folder such as {@code /sys/class/hwmon}.
 * Used by one bus reader.
 */
final class NamedDevice {

    private final Path folder;
    private final ChannelAddress address;
    private Optional<Path> found = Optional.empty();

    NamedDevice(Path folder, ChannelAddress address) {
        this.folder = folder;
        this.address = address;
    }

    /**
     * The device's folder; looked for anew after {@link #forget()}.
     *
     * @throws DeviceNotFoundException when there is none, or more than one
     */
    Path find() throws DeviceNotFoundException {
        if (found.isEmpty()) {
            found = Optional.of(search());
        }
        return found.get();
    }

    /**
     * Makes the next {@link #find()} look again: a device that was plugged in anew has a new
     * number.
     */
    void forget() {
        found = Optional.empty();
    }

    private Path search() throws DeviceNotFoundException {
        List<Path> matches = new ArrayList<>();
        try (DirectoryStream<Path> entries = Files.newDirectoryStream(folder)) {
            for (Path entry : entries) {
                if (isNamed(entry) && hasParent(entry)) {
                    matches.add(entry);
                }
            }
        } catch (IOException e) {
            throw new DeviceNotFoundException(folder + " can't be read: " + e.getMessage());
        }
        if (matches.isEmpty()) {
            throw new DeviceNotFoundException(
                    "no device below "
                            + folder
                            + " is called "
                            + address.device()
                            + address.parent().map(parent -> "@" + parent).orElse(""));
        }
        if (matches.size() > 1) {
            throw new DeviceNotFoundException(
                    matches.size()
                            + " devices below "
                            + folder
                            + " are called "
                            + address.device()
                            + ": write which one, for example "
                            + address.device()
                            + "@1-0044/"
                            + address.channel());
        }
        return matches.get(0);
    }

    private boolean isNamed(Path entry) {
        try {
            return SysfsFile.read(entry.resolve("name")).equals(address.device());
        } catch (IOException e) {
            // Devices come and go while we look; one without a name is not ours.
            return false;
        }
    }

    private boolean hasParent(Path entry) {
        if (address.parent().isEmpty()) {
            return true;
        }
        return hardwareFolder(entry)
                .map(hardware -> hardware.endsWith(address.parent().get()))
                .orElse(false);
    }

    /** The hardware's own name of a device, for example {@code 1-0044}. */
    static Optional<String> hardwareOf(Path entry) {
        return hardwareFolder(entry).map(hardware -> String.valueOf(hardware.getFileName()));
    }

    private static Optional<Path> hardwareFolder(Path entry) {
        try {
            // hwmonN/device leads to the hardware; an IIO device lies in its hardware's folder.
            Path link = entry.resolve("device");
            return Optional.ofNullable(
                    Files.exists(link) ? link.toRealPath() : entry.toRealPath().getParent());
        } catch (IOException e) {
            return Optional.empty();
        }
    }

    /** No device, or no single one, has the name. */
    static final class DeviceNotFoundException extends IOException {
        private static final long serialVersionUID = 1L;

        DeviceNotFoundException(String message) {
            super(message);
        }

        /** What a driver says for it. */
        Sample.Failed asSample(long atNanos) {
            return new Sample.Failed(Doubt.NOT_THERE, String.valueOf(getMessage()), atNanos);
        }
    }
}
