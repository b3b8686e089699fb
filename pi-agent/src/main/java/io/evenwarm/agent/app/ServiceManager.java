package io.evenwarm.agent.app;

import java.io.IOException;
import java.nio.charset.StandardCharsets;
import java.util.Map;
import java.util.Optional;
import java.util.concurrent.TimeUnit;

/** Whether something outlives this process and drives its outputs off then. */
final class ServiceManager {

    /** Set by whatever runs {@code outputs-off} after every end of the agent. */
    static final String PROMISE = "EVENWARM_OUTPUTS_OFF_AFTERWARDS";

    private static final String UNIT = "evenwarm-agent.service";
    private static final long PATIENCE_SECONDS = 5;

    private final Map<String, String> environment;
    private final String systemctl;

    /**
     * @param environment this process's
     * @param systemctl the program to ask for the installed unit
     */
    ServiceManager(Map<String, String> environment, String systemctl) {
        this.environment = environment;
        this.systemctl = systemctl;
    }

    /** Why nothing would drive lines off after this process; empty when something will. */
    Optional<String> whyNotBehindUs() {
        return "1".equals(environment.get(PROMISE))
                ? Optional.empty()
                : Optional.of(
                        "no service manager drives the lines off when this process dies: run it as"
                                + " the service of hardware-notes/service.md, which sets "
                                + PROMISE
                                + "=1");
    }

    /**
     * Why nothing would drive lines off after the agent when it runs as the installed service;
     * empty when something will. For a check that is run by hand.
     */
    Optional<String> whyNotBehindTheService() {
        if (whyNotBehindUs().isEmpty()) {
            return Optional.empty();
        }
        String unit = show();
        boolean drivesOff = unit.lines().anyMatch(ServiceManager::isOutputsOff);
        boolean promises = unit.lines().anyMatch(ServiceManager::isPromise);
        if (drivesOff && promises) {
            return Optional.empty();
        }
        return Optional.of(
                (drivesOff
                                ? "the unit " + UNIT + " does not set " + PROMISE + "=1"
                                : "no unit "
                                        + UNIT
                                        + " with ExecStopPost=… outputs-off is installed")
                        + ": see hardware-notes/service.md");
    }

    private static boolean isOutputsOff(String line) {
        return line.startsWith("ExecStopPost=") && line.contains("outputs-off");
    }

    private static boolean isPromise(String line) {
        return line.startsWith("Environment=") && line.contains(PROMISE + "=1");
    }

    /** What the service manager says of the unit; nothing where there is none or it hangs. */
    private String show() {
        try {
            Process process =
                    new ProcessBuilder(
                                    systemctl,
                                    "show",
                                    "--property=ExecStopPost",
                                    "--property=Environment",
                                    UNIT)
                            .redirectError(ProcessBuilder.Redirect.DISCARD)
                            .start();
            process.getOutputStream().close();
            if (!process.waitFor(PATIENCE_SECONDS, TimeUnit.SECONDS)) {
                process.destroyForcibly();
                return "";
            }
            return new String(process.getInputStream().readNBytes(1 << 16), StandardCharsets.UTF_8);
        } catch (IOException e) {
            return "";
        } catch (InterruptedException e) {
            Thread.currentThread().interrupt();
            return "";
        }
    }
}
