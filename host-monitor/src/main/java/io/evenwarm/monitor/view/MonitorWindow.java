package io.evenwarm.monitor.view;

import java.util.concurrent.CountDownLatch;
import java.util.concurrent.atomic.AtomicReference;
import javafx.application.Platform;
import javafx.stage.Stage;
import org.jspecify.annotations.Nullable;

/**
 * The monitor's window.
 *
 * <p>{@link #open} and {@link #close} may be called by any thread but the window's own.
 */
public final class MonitorWindow {

    private final AtomicReference<@Nullable WindowScene> scene = new AtomicReference<>();

    private MonitorWindow() {}

    /**
     * Opens the window and returns once it is on the screen. Call it at most once in a process.
     *
     * @throws WindowUnavailableException when this machine has no display, or lacks a library that
     *     the window needs; its message is one line for a person
     */
    public static MonitorWindow open(WindowContext context) throws WindowUnavailableException {
        return open(context, () -> {});
    }

    /**
     * As {@link #open(WindowContext)}.
     *
     * @param onFirstCurve runs once, on the window's thread, when the first curve is on the screen
     */
    public static MonitorWindow open(WindowContext context, Runnable onFirstCurve)
            throws WindowUnavailableException {
        // Charts are drawn into memory with AWT: it must never look for a display of its own.
        System.setProperty("java.awt.headless", "true");
        MonitorWindow window = new MonitorWindow();
        CountDownLatch shown = new CountDownLatch(1);
        AtomicReference<@Nullable Throwable> failure = new AtomicReference<>();
        try {
            Platform.startup(
                    () -> {
                        try {
                            window.scene.set(WindowScene.show(new Stage(), context, onFirstCurve));
                        } catch (RuntimeException | LinkageError trouble) {
                            failure.set(trouble);
                        } finally {
                            shown.countDown();
                        }
                    });
            shown.await();
        } catch (InterruptedException interrupted) {
            Thread.currentThread().interrupt();
            throw unavailable(interrupted);
        } catch (RuntimeException | LinkageError trouble) {
            throw unavailable(trouble);
        }
        Throwable trouble = failure.get();
        if (trouble != null) {
            Platform.exit();
            throw unavailable(trouble);
        }
        return window;
    }

    /** Closes the window; {@code onClosed} runs as if a person had closed it. */
    public void close() {
        WindowScene opened = scene.get();
        if (opened != null) {
            Platform.runLater(opened::close);
        }
    }

    /**
     * Stops asking and drawing and leaves the window where it is: for the way out of the whole JVM,
     * in which the toolkit ends by itself and must not be asked for anything.
     */
    public void standStill() {
        WindowScene opened = scene.get();
        if (opened != null) {
            opened.standStill();
        }
    }

    private static WindowUnavailableException unavailable(Throwable cause) {
        return new WindowUnavailableException(
                "The window can't open here: " + WindowTrouble.words(cause), cause);
    }
}
