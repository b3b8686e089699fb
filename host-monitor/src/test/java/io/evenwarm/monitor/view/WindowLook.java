package io.evenwarm.monitor.view;

import java.util.ArrayList;
import java.util.List;
import java.util.concurrent.Callable;
import java.util.concurrent.TimeUnit;
import java.util.concurrent.TimeoutException;
import javafx.scene.Node;
import javafx.scene.Scene;
import javafx.scene.control.Labeled;
import javafx.scene.text.Text;
import javafx.stage.Stage;
import org.testfx.util.WaitForAsyncUtils;

/** What a person can read in an open window. */
record WindowLook(Stage stage) {

    private static final long SECONDS_MAX = 30;

    static void await(Callable<Boolean> condition) throws TimeoutException {
        WaitForAsyncUtils.waitFor(SECONDS_MAX, TimeUnit.SECONDS, condition);
    }

    static boolean isShown(Node node) {
        for (Node at = node; at != null; at = at.getParent()) {
            if (!at.isVisible()) {
                return false;
            }
        }
        return true;
    }

    Scene scene() {
        return stage.getScene();
    }

    /** Makes the window so large, pixels. */
    void size(int width, int height) throws Exception {
        WaitForAsyncUtils.asyncFx(
                        () -> {
                            stage.setWidth(width);
                            stage.setHeight(height);
                        })
                .get();
        WaitForAsyncUtils.waitForFxEvents();
    }

    void close() throws Exception {
        WaitForAsyncUtils.asyncFx(stage::close).get();
        WaitForAsyncUtils.waitForFxEvents();
    }

    /**
     * What is written, once it is made ready to be drawn: before that a control takes no key, and a
     * press misses it. By the window's thread only.
     */
    List<Labeled> labels() {
        scene().getRoot().applyCss();
        scene().getRoot().layout();
        List<Labeled> labels = new ArrayList<>();
        for (Node node : scene().getRoot().lookupAll("*")) {
            if (node instanceof Labeled labeled && isShown(node)) {
                labels.add(labeled);
            }
        }
        return labels;
    }

    List<String> texts() throws Exception {
        return WaitForAsyncUtils.asyncFx(
                        () ->
                                labels().stream()
                                        .map(Labeled::getText)
                                        .filter(text -> !text.isBlank())
                                        .toList())
                .get();
    }

    boolean says(String words) throws Exception {
        return texts().stream().anyMatch(text -> text.contains(words));
    }

    /**
     * Texts that are drawn shorter than they are, or beyond the window's right edge. By the
     * window's thread only.
     */
    List<String> cutOff() {
        List<String> cut = new ArrayList<>();
        for (Labeled label : labels()) {
            for (Node part : label.lookupAll(".text")) {
                boolean shortened =
                        part instanceof Text text && !text.getText().equals(label.getText());
                boolean outside =
                        label.localToScene(label.getLayoutBounds()).getMaxX()
                                > scene().getWidth() + 0.5;
                if (shortened || outside) {
                    cut.add(label.getText());
                }
            }
        }
        return cut;
    }
}
