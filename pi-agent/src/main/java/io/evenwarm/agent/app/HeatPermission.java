package io.evenwarm.agent.app;

import io.evenwarm.agent.app.CabinetSettings.OutputDriver;
import io.evenwarm.agent.app.CabinetSettings.OutputWiring;
import io.evenwarm.agent.driver.sysfs.LineRelease;
import io.evenwarm.agent.port.Output;
import io.evenwarm.agent.port.OutputException;
import java.io.IOException;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.stream.Stream;

/**
 * Whether a cabinet may be heated: only where its heat lines go off without this process.
 *
 * <p>A line of the header ({@code gpio}) needs a kernel that lets go of it and a service manager
 * that drives it off. An LED-class line is the kernel's own and stays as it is whatever the
 * kernel's setting: it needs the service manager. Files outside {@code /sys}, and simulated lines,
 * switch no relay and need nothing.
 */
final class HeatPermission {

    private final Path root;
    private final LineRelease release;
    private final Optional<String> noServiceManager;

    /**
     * @param root the file system's root, or a stand-in
     * @param noServiceManager why nothing would drive lines off after this process; empty when
     *     something will
     */
    HeatPermission(Path root, Optional<String> noServiceManager) {
        this.root = root;
        this.release = new LineRelease(root);
        this.noServiceManager = noServiceManager;
    }

    /** As this process is run. */
    static HeatPermission ofThisProcess() {
        return new HeatPermission(
                Path.of("/"), new ServiceManager(System.getenv(), "systemctl").whyNotBehindUs());
    }

    /** Why this cabinet must not be heated; empty when it may. */
    List<String> refusals(CabinetSettings cabinet, Path ledFolder) {
        List<String> reasons = new ArrayList<>();
        List<OutputWiring> heatLines =
                Stream.of(Optional.of(cabinet.heater()), cabinet.cutOffRelay())
                        .flatMap(Optional::stream)
                        .toList();
        boolean onGpio = heatLines.stream().anyMatch(line -> line.driver() == OutputDriver.GPIO);
        boolean onLeds =
                heatLines.stream().anyMatch(line -> line.driver() == OutputDriver.LED)
                        && isKernels(ledFolder);
        if (onGpio) {
            release.whyKept().ifPresent(reasons::add);
        }
        if (onGpio || onLeds) {
            noServiceManager.ifPresent(reasons::add);
        }
        return reasons;
    }

    private boolean isKernels(Path ledFolder) {
        try {
            return ledFolder.toRealPath().startsWith(root.resolve("sys").toRealPath());
        } catch (IOException e) {
            // Not there now; it may be by the time the agent drives it.
            return ledFolder.startsWith(root.resolve("sys"));
        }
    }

    /**
     * The heater's line of a cabinet that must not be heated. It can be driven off only, and says
     * at each call why, so that guard grants no heat and the finding stays.
     */
    static final class OffOnly implements Output {
        private final Output line;
        private final String words;
        private volatile boolean isKnownOff;

        OffOnly(Output line, List<String> refusals) {
            this.line = line;
            this.words = "it is off, and heat is refused: " + String.join("; and ", refusals);
        }

        /** The line itself. */
        Output line() {
            return line;
        }

        @Override
        public void drive(boolean energised) throws OutputException {
            line.drive(false);
            if (isKnownOff || energised) {
                throw new OutputException(words);
            }
            isKnownOff = true;
        }

        @Override
        public void close() {
            line.close();
        }
    }
}
