package io.evenwarm.monitor.chart;

import java.util.ArrayList;
import java.util.Comparator;
import java.util.List;
import java.util.stream.IntStream;

/**
 * Places labels of one height in a column, each as near as can be to where it wants to be, none
 * over another.
 */
final class LabelStack {

    private LabelStack() {}

    /** Neighbours that had to share out their room, as one block. */
    private static final class Block {
        private final List<Integer> labels = new ArrayList<>();
        private double wantedSum;

        double top(double height) {
            // The block's place that moves its labels least, in the least-squares sense.
            return wantedSum / labels.size() - height * (labels.size() - 1) / 2;
        }
    }

    /**
     * Keeps the order of the wanted places. When the labels can't all fit, they overlap evenly
     * rather than leave the bounds.
     *
     * @param wanted the middle that each label wants
     * @param height of every label, with its spacing
     * @return the middle that each label gets, in the same order as {@code wanted}
     */
    static double[] place(double[] wanted, double height, double top, double bottom) {
        int count = wanted.length;
        double[] placed = new double[count];
        if (count == 0) {
            return placed;
        }
        double step = Math.min(height, count > 1 ? (bottom - top - height) / (count - 1) : height);
        double lowest = top + height / 2;
        double highest = Math.max(lowest, bottom - height / 2);
        List<Integer> order =
                IntStream.range(0, count)
                        .boxed()
                        .sorted(Comparator.comparingDouble(i -> wanted[i]))
                        .toList();
        List<Block> blocks = new ArrayList<>();
        for (int label : order) {
            Block block = new Block();
            block.labels.add(label);
            block.wantedSum = Math.max(lowest, Math.min(highest, wanted[label]));
            blocks.add(block);
            mergeOverlapping(blocks, step);
        }
        for (Block block : blocks) {
            double room = step * (block.labels.size() - 1);
            double y = Math.max(lowest, Math.min(highest - room, block.top(step)));
            for (int label : block.labels) {
                placed[label] = y;
                y += step;
            }
        }
        return separate(placed, order, step, lowest, highest);
    }

    private static void mergeOverlapping(List<Block> blocks, double step) {
        while (blocks.size() > 1) {
            Block last = blocks.get(blocks.size() - 1);
            Block before = blocks.get(blocks.size() - 2);
            if (before.top(step) + step * before.labels.size() <= last.top(step)) {
                return;
            }
            before.labels.addAll(last.labels);
            before.wantedSum += last.wantedSum;
            blocks.remove(blocks.size() - 1);
        }
    }

    /** The bounds may have pushed a block against its neighbour: one pass each way parts them. */
    private static double[] separate(
            double[] placed, List<Integer> order, double step, double lowest, double highest) {
        double floor = lowest;
        for (int label : order) {
            placed[label] = Math.max(placed[label], floor);
            floor = placed[label] + step;
        }
        double ceiling = highest;
        for (int i = order.size() - 1; i >= 0; i--) {
            int label = order.get(i);
            placed[label] = Math.min(placed[label], ceiling);
            ceiling = placed[label] - step;
        }
        return placed;
    }
}
