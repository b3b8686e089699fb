package io.evenwarm.agent.driver.sysfs;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.Optional;

/** The kernel's own name for the boot that it is in (Linux, random(4): {@code boot_id}). */
public final class MachineBoot {

    /** Where Linux tells it. */
    public static final Path FILE = Path.of("/proc/sys/kernel/random/boot_id");

    private MachineBoot() {}

    /** The id, one word; empty where the kernel tells none. */
    public static Optional<String> id(Path file) {
        try {
            String id = Files.readString(file).strip();
            return id.matches("[0-9a-f-]{8,64}") ? Optional.of(id) : Optional.empty();
        } catch (IOException e) {
            return Optional.empty();
        }
    }
}
