package io.evenwarm.agent.driver.sysfs;

import io.evenwarm.agent.port.Output;
import io.evenwarm.agent.port.OutputException;
import java.io.IOException;
import java.lang.System.Logger;
import java.lang.System.Logger.Level;
import java.nio.ByteBuffer;
import java.nio.channels.FileChannel;
import java.nio.charset.StandardCharsets;
import java.nio.file.AccessDeniedException;
import java.nio.file.Files;
import java.nio.file.NoSuchFileException;
import java.nio.file.Path;
import java.nio.file.StandardOpenOption;
import java.util.regex.Pattern;

/**
 * A line that the kernel's {@code gpio-leds} driver switches: {@code brightness} takes 0 or 1 [1].
 * The kernel keeps the last level when the agent's process dies.
 *
 * <p>Each level is read back after it was written. Holds no lock, so that a call which hangs in the
 * kernel does not keep the lapse timer from driving the line off.
 *
 * <p>[1] Linux kernel, Documentation/leds/leds-class.rst
 */
public final class LedLine implements Output {

    private static final Logger LOG = System.getLogger(LedLine.class.getName());
    private static final Pattern NAME = Pattern.compile("[A-Za-z0-9][A-Za-z0-9 ._:-]{0,63}");

    /** What a line's name looks like, for a person. */
    public static final String NAME_FORM =
            "the name of a folder below led_folder, for example \"heater-north\"";

    private final Path folder;
    private final Path brightness;
    private final Path trigger;
    private volatile boolean triggerOff;

    /**
     * @param ledFolder Linux's {@code /sys/class/leds}, or a stand-in
     * @param name checked with {@link #isName}
     */
    public LedLine(Path ledFolder, String name) {
        this.folder = ledFolder.resolve(name);
        this.brightness = folder.resolve("brightness");
        this.trigger = folder.resolve("trigger");
    }

    /** Whether this can be a line's name; no path. */
    public static boolean isName(String text) {
        return NAME.matcher(text).matches();
    }

    @Override
    public void drive(boolean energised) throws OutputException {
        try {
            if (!triggerOff) {
                takeTriggerOff(energised);
            }
            write(brightness, energised ? "1\n" : "0\n");
            confirm(energised);
        } catch (OutputException e) {
            triggerOff = false;
            throw e;
        } catch (IOException e) {
            triggerOff = false;
            throw new OutputException(words(e), e);
        }
    }

    /**
     * A trigger (heartbeat, timer) would go on switching the line behind our back. Where it can't
     * be taken off, the line is not driven on; off is tried all the same, and takes the trigger off
     * by itself [1].
     */
    private void takeTriggerOff(boolean energised) throws OutputException {
        try {
            if (Files.exists(trigger)) {
                write(trigger, "none\n");
            }
            triggerOff = true;
        } catch (IOException e) {
            if (energised) {
                throw new OutputException(
                        trigger
                                + " could not be set to none, so that something else may switch the"
                                + " line: "
                                + e.getMessage(),
                        e);
            }
        }
    }

    private void confirm(boolean energised) throws IOException {
        String text = SysfsFile.read(brightness).lines().findFirst().orElse("");
        boolean isOn;
        try {
            isOn = Integer.parseInt(text) > 0;
        } catch (NumberFormatException e) {
            throw new OutputException(
                    brightness
                            + " holds \""
                            + SysfsFile.shown(text)
                            + "\" where 0 or 1 was written",
                    e);
        }
        if (isOn != energised) {
            throw new OutputException(
                    folder
                            + " was driven "
                            + (energised ? "on" : "off")
                            + " but reads back "
                            + (isOn ? "on" : "off"));
        }
    }

    /** Never creates the file, and never empties it first: a kill in between must leave a level. */
    private static void write(Path file, String text) throws IOException {
        try (FileChannel channel = FileChannel.open(file, StandardOpenOption.WRITE)) {
            ByteBuffer bytes = ByteBuffer.wrap(text.getBytes(StandardCharsets.US_ASCII));
            while (bytes.hasRemaining()) {
                channel.write(bytes);
            }
        }
    }

    private String words(IOException cause) {
        if (cause instanceof NoSuchFileException) {
            return folder + " is not there: is the line's name right, and its overlay loaded?";
        }
        if (cause instanceof AccessDeniedException) {
            return brightness + " may not be written by this user";
        }
        return "writing " + brightness + " failed: " + cause.getMessage();
    }

    @Override
    public void close() {
        try {
            drive(false);
        } catch (OutputException e) {
            LOG.log(Level.ERROR, "could not drive a line off: {0}", e.getMessage());
        }
    }
}
