package io.evenwarm.monitor.app;

/** Entry point of {@code evenwarm}. */
public final class MonitorMain {

    private MonitorMain() {}

    public static void main(String[] arguments) {
        System.out.println("evenwarm");
    }
}
